import type { Scenario } from '../../src/scenario/scenario.ts';

/** What would run, end an element, open a comment, turn the writing round or hide, were it taken for more than text. */
const CODE = `</script></style></title></textarea><script>window.ran=1;alert(1)</script><!-- <img src=x onerror="window.ran=1"><svg onload=alert(2)>`;
const SIGNS = `"'\`&amp;&#60;b&#62;\${7*7}{{7*7}}\u2028\u2029`;
const TURNS = '\u202eturned\u2066\u200bhidden\u200d\ufeff\u0000\u0007\u202c';
const LONG = 'W'.repeat(10_000);
export const TEXTS: Readonly<Record<string, string>> = {
  'code, signs and turns, 10 kB of it': `${TURNS}${SIGNS}${CODE}`.repeat(45),
  'a word of 10 kB': LONG,
};

/** The scenario with a text in every place that takes free text. */
export function filled(scenario: Scenario, text: string): Scenario {
  // a wheel's name is a word of at most 60 letters, by the rules of the file
  const wheelName = (name: string) => name.padEnd(60, 'W');
  const wheels = Object.fromEntries(
    Object.entries(scenario.machine.wheels).map(([name, wheel]) => [wheelName(name), wheel]),
  );
  const renamed = (path: string) =>
    path.replace(/^machine\.wheels\.([\w-]+)/, (_, name) => `machine.wheels.${wheelName(name)}`);
  const factors = scenario.sweep!.factors.map((factor) =>
    factor.kind === 'levels' && factor.path === 'wheel'
      ? { ...factor, levels: factor.levels.map((level) => wheelName(String(level))) }
      : factor,
  );
  return {
    ...scenario,
    title: text,
    job: { lot: text, operator: text, [text.slice(0, 200)]: text },
    components: scenario.components.map((each, i) => ({
      ...each,
      material: { ...each.material, name: `${i}${text}` },
    })),
    machine: { ...scenario.machine, name: text, wheels },
    settings: { ...scenario.settings, wheel: wheelName(scenario.settings.wheel) },
    spec: scenario.spec.map((line, i) => ({ ...line, text: `${i}${text}` })),
    sweep: { ...scenario.sweep!, factors },
    calibration: { ...scenario.calibration, trials: [{ name: text }, text] },
    provenance: Object.fromEntries(
      Object.entries(scenario.provenance).map(([path, each]) => [
        renamed(path),
        { ...each, source: text, meaning: text, symbol: each.symbol && text.slice(0, 40) },
      ]),
    ),
    warnings: [{ code: 'other', message: text } as never],
    text,
  };
}
