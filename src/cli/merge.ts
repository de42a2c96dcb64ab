import { InputError } from '../scenario/errors.ts';
import { placeOf } from '../sweep/store/store-path.ts';
import { spaced } from '../sweep/study/progress.ts';
import { type Command, EXIT } from './command.ts';

/** `merge OUT…`: joins shards. */
export const merge: Command = {
  options: (argv) =>
    argv
      .positional('outs', {
        type: 'string',
        array: true,
        describe: 'folders of shards, or their files',
        demandOption: true,
      })
      .option('output', {
        alias: 'o',
        type: 'string',
        describe: 'joined store; default the one folder named',
      })
      .example('grindloop merge out/my-case', 'joins the shards in one folder')
      .example('grindloop merge out/a out/b -o out/whole', 'joins the shards of two folders'),
  run: async (options) => {
    const outs = options.outs as string[];
    const only = outs.length === 1 && !outs[0]!.endsWith('.duckdb') ? outs[0] : undefined;
    const out = typeof options.output === 'string' ? options.output : only;
    if (out === undefined) {
      const message = 'must be given where several are joined, e.g. -o out/whole';
      throw new InputError([{ place: '-o/--output', message }]);
    }
    const { store } = placeOf(out);
    // the database is loaded only by commands that open a store
    const { mergeShards } = await import('../sweep/store/merge-stores.ts');
    const points = await mergeShards(outs, store);
    process.stdout.write(`${store}: ${spaced(points)} points\n`);
    return EXIT.done;
  },
};
