import { ownPackage } from '../../scenario/package-folder.ts';

/** Version of the program, from its own package. */
export function programVersion(): string {
  return ownPackage().version;
}
