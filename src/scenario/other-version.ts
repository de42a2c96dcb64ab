/**
 * What a reader is to know of stored work that another version of the program made; nothing where it is of this one.
 *
 * @param done e.g. `The sweep was computed`
 * @param again what to do, e.g. `sweep again`
 * @example otherVersion('The sweep was computed', '1.0.0', '1.0.0', 'sweep again') // undefined
 */
export function otherVersion(done: string, theirs: string, ours: string, again: string): string | undefined {
  if (theirs === ours) return undefined;
  return `${done} with version ${theirs} of grindloop; this is version ${ours}, whose equations may differ: ${again}.`;
}
