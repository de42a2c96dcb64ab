import type { Listed } from './command.ts';

/**
 * Every command of the program, in the order help shows them. A command's file is loaded when it is named, so that each
 * starts with its own parts only.
 */
export const COMMANDS: readonly Listed[] = [
  {
    usage: 'new [file]',
    summary: 'write a commented scenario to start from, or with --log an empty trial log',
    load: async () => (await import('./new.ts')).newScenario,
  },
  {
    usage: 'check <file>',
    summary: 'validate a scenario: every fault at once, or the values filled in, with labels and sources',
    load: async () => (await import('./check.ts')).check,
  },
  {
    usage: 'quantities',
    summary: 'every quantity a spec, goal, sweep or table can name: unit, symbol, meaning',
    load: async () => (await import('./quantities.ts')).quantities,
  },
  {
    usage: 'read <files..>',
    summary: 'what an analyser or sieve export says: sizes, unit, basis, percentiles, repeats',
    load: async () => (await import('./read.ts')).read,
  },
  {
    usage: 'grade <feed> <fines> <coarse>',
    summary: 'grade efficiency from three measured curves: closure, cut, sharpness, bypass, as a wheel entry',
    load: async () => (await import('./grade.ts')).grade,
  },
  {
    usage: 'run <file>',
    summary: 'one operating point: does it meet the spec, by how much, what limits',
    load: async () => (await import('./run.ts')).run,
  },
  {
    usage: 'sweep <file>',
    summary: 'the map: every point of a design, in threads, resumable',
    load: async () => (await import('./sweep.ts')).sweep,
  },
  {
    usage: 'merge <outs..>',
    summary: 'joins the shards of a sweep into one store',
    load: async () => (await import('./merge.ts')).merge,
  },
  {
    usage: 'sql <out> <question>',
    summary: 'queries the store of a sweep in SQL, e.g. "select * from points where meetsSpec"',
    load: async () => (await import('./sql.ts')).sql,
  },
  {
    usage: 'report <out>',
    summary: 'the report of a sweep, or of one run of a scenario, as one HTML file that opens from disk',
    load: async () => (await import('./report.ts')).report,
  },
  {
    usage: 'compare <file>',
    summary:
      'wheels (or rotors) side by side at equal fineness: speed, power, fines, capacity, and what is not resolved',
    load: async () => (await import('./compare.ts')).compare,
  },
  {
    usage: 'desk [file]',
    summary: 'the whole tool as one HTML file that opens from disk, for people without Node',
    load: async () => (await import('./desk.ts')).desk,
  },
  {
    usage: 'lesson [file]',
    summary: 'the teaching page: how sending back the coarse narrows the product, in steps moved by hand',
    load: async () => (await import('./lesson.ts')).lesson,
  },
  {
    usage: 'notebook <file>',
    summary: 'runs the cells of a notebook and writes it with their results',
    load: async () => (await import('./notebook.ts')).notebook,
  },
  {
    usage: 'find <file>',
    summary: 'settings that meet the spec and serve the goal best, what limits them, how far the margin is',
    load: async () => (await import('./find.ts')).find,
  },
  {
    usage: 'fit <file>',
    summary: 'calibrates breakage and wheel coefficients on measured trials, with uncertainty',
    load: async () => (await import('./fit.ts')).fit,
  },
  {
    usage: 'pool <calibrations..>',
    summary: 'what several campaigns say of one machine or material, as a catalogue entry with spreads',
    load: async () => (await import('./pool.ts')).pool,
  },
  {
    usage: 'next <file>',
    summary: 'the trials that would teach most within the powder and hours left, as a run sheet',
    load: async () => (await import('./next.ts')).next,
  },
  {
    usage: 'time <file>',
    summary: 'start-up, steps and feeder noise against time; when a sample is worth taking',
    load: async () => (await import('./time.ts')).time,
  },
  {
    usage: 'plant <file>',
    summary: 'collection, fan, lines, heat and moisture, and a dust screening for an operating point',
    load: async () => (await import('./plant.ts')).plant,
  },
  {
    usage: 'scale <file>',
    summary:
      'settings and rate of another machine for the same product, what limits it, and what does not scale',
    load: async () => (await import('./scale.ts')).scale,
  },
  {
    usage: 'completion [shell]',
    summary: 'the script by which a shell completes commands, options and file names',
    load: async () => (await import('./completion.ts')).completionOf(COMMANDS),
  },
];
