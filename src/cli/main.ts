#!/usr/bin/env node
import { EXIT } from './command.ts';
import { runCommandLine } from './command-line.ts';

// a reader that closes early, such as head, is no fault
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code === 'EPIPE') process.exit(EXIT.done);
  throw error;
});
process.exitCode = await runCommandLine(process.argv.slice(2));
