/** A second coding of the Barth–Muschelknautz cyclone, line by line in the notation of Hoffmann & Stein, ch. 6 (recalled). */
export interface CycloneProblem {
  readonly D: number;
  readonly Dx: number;
  readonly a: number;
  readonly b: number;
  readonly S: number;
  readonly H: number;
  readonly Hc: number;
  readonly Dd: number;
  readonly ks: number;
  readonly Q: number;
  readonly rho: number;
  readonly mu: number;
  readonly rhoP: number;
  readonly rhoBulk: number;
  readonly solids: number;
  readonly median: number;
}

export interface CycloneAnswer {
  readonly x50: number;
  readonly thrownOut: number;
  readonly coreSwirl: number;
  /** Without the acceleration into the inlet [Pa]. */
  readonly pressureLoss: number;
}

/** Cut of the inner vortex and share thrown out at the inlet, for an overall efficiency η in the wall friction. */
export function secondCyclone(p: CycloneProblem, eta: number): CycloneAnswer {
  const R = p.D / 2;
  const Rx = p.Dx / 2;
  const Rin = R - p.b / 2;
  const vin = p.Q / (p.a * p.b);
  const co = p.solids / (p.Q * p.rho);
  const xi = p.b / R;
  const alpha =
    (1 / xi) *
    (1 -
      Math.sqrt(
        1 + 4 * ((xi / 2) ** 2 - xi / 2) * Math.sqrt(1 - ((1 - xi ** 2) * (2 * xi - xi ** 2)) / (1 + co)),
      ));
  const vw = (vin * Rin) / (alpha * R);
  const Rm = Math.sqrt(Rx * R);
  const vzw = (0.9 * p.Q) / (Math.PI * (R ** 2 - Rm ** 2));
  const Ar =
    Math.PI *
    (R ** 2 -
      Rx ** 2 +
      2 * R * (p.H - p.Hc) +
      (R + p.Dd / 2) * Math.sqrt(p.Hc ** 2 + (R - p.Dd / 2) ** 2) +
      2 * Rx * p.S);
  const vx = p.Q / (Math.PI * Rx ** 2);
  let vcs = vw;
  let total = 0;
  for (let turn = 0; turn < 200; turn++) {
    const vtm = Math.sqrt(vw * vcs);
    const vzm = (0.9 * p.Q) / (Math.PI * (R ** 2 - Rx ** 2));
    const ReR = (Rin * Rm * vzw * p.rho) / (p.H * p.mu * (1 + (vzm / vtm) ** 2));
    const smooth = 0.323 * ReR ** -0.623;
    const over = p.ks / R - 0.000599;
    const rough =
      over > 0 ? (Math.log(1.6 / over) / Math.LN10) ** -2 / (1 + 2.25e5 / (ReR * ReR * over ** 0.213)) : 0;
    const Frx = vx / Math.sqrt(2 * Rx * 9.80665);
    const f =
      smooth + rough + 0.25 * (R / Rx) ** -0.625 * Math.sqrt((eta * co * Frx * p.rho) / (0.4 * p.rhoBulk));
    total = f;
    vcs = (vw * (R / Rx)) / (1 + (f * Ar * vw * Math.sqrt(R / Rx)) / (2 * p.Q));
  }
  const x50 = Math.sqrt((18 * p.mu * 0.9 * p.Q) / (2 * Math.PI * (p.rhoP - p.rho) * vcs ** 2 * (p.H - p.S)));
  const k = co >= 0.1 ? 0.15 : -0.11 - 0.1 * Math.log(co);
  const limit = 0.025 * (x50 / p.median) * (10 * co) ** k;
  const body = (total * Ar * p.rho * Math.sqrt(vw * vcs) ** 3) / (1.8 * p.Q);
  const swirl = vcs / vx;
  const core = 0.5 * p.rho * vx ** 2 * (2 + swirl * swirl + 3 * Math.cbrt(swirl) ** 4);
  return { x50, thrownOut: co > limit ? 1 - limit / co : 0, coreSwirl: vcs, pressureLoss: body + core };
}
