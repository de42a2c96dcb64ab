#!/usr/bin/env node
import { EXIT } from './command.ts';
import { runCommandLine } from './command-line.ts';
import { writeFault } from './stream-fault.ts';
import { showOnly } from './terminal-text.ts';

process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  // a reader that closes early, such as head, is no fault
  if (error.code === 'EPIPE') process.exit(EXIT.done);
  process.stderr.write(`${writeFault('standard output', error)}\n`);
  process.exit(EXIT.badInput);
});
// there is nowhere left to say it
process.stderr.on('error', () => process.exit(EXIT.badInput));
showOnly(process.stdout);
process.exitCode = await runCommandLine(process.argv.slice(2));
