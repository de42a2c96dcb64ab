import { LAPPLE } from './lapple.ts';
import type { CycloneLaw } from './law.ts';
import { MUSCHELKNAUTZ } from './muschelknautz.ts';

/** Cyclone models by name. */
export const CYCLONES: Readonly<Record<string, CycloneLaw>> = {
  [MUSCHELKNAUTZ.name]: MUSCHELKNAUTZ,
  [LAPPLE.name]: LAPPLE,
};
