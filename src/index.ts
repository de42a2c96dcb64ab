export type { Case } from './model/case.ts';
export { solve } from './model/loop/solve.ts';
export type { State } from './model/loop/state.ts';
export { loadScenario } from './scenario/load.ts';
export { type Outcome, outcomeOf } from './scenario/outcome/outcome.ts';
export { QUANTITIES, quantityNamed } from './scenario/outcome/quantities.ts';
export { solvePoint } from './scenario/outcome/solved.ts';
export { toCase, withValue, withValues } from './scenario/point.ts';
export type { Scenario } from './scenario/scenario.ts';
