import type { CycloneLaw } from './cyclone-law.ts';
import { LAPPLE } from './lapple.ts';
import { MUSCHELKNAUTZ } from './muschelknautz.ts';

/** Cyclone models by name. */
export const CYCLONES: Readonly<Record<string, CycloneLaw>> = {
  [MUSCHELKNAUTZ.name]: MUSCHELKNAUTZ,
  [LAPPLE.name]: LAPPLE,
};
