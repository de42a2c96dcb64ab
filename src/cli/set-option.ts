/** The option `--set path=value`, repeatable, by which a command changes values of its scenario. */
export function settable(describe: string) {
  return { type: 'string', array: true, nargs: 1, default: [] as string[], describe } as const;
}
