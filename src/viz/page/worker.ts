import { type Request, work } from '../../answers/jobs.ts';
import type { Scenario } from '../../scenario/scenario.ts';
import { readPlainData } from '../../sweep/store/plain-data.ts';

let scenario: Scenario | undefined;

/** The first message is the scenario; every later one a job. */
self.onmessage = ({ data }: MessageEvent<{ readonly scenario: string } | Request>) => {
  if ('scenario' in data) {
    scenario = readPlainData(data.scenario) as Scenario;
    return;
  }
  try {
    self.postMessage(work(scenario!, data));
  } catch (error) {
    self.postMessage({
      id: data.id,
      kind: 'fault',
      result: error instanceof Error ? error.message : String(error),
    });
  }
};
