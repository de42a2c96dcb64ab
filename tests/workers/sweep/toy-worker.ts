import { workerTask } from '../../../src/sweep/workers/task.ts';
import { toyEvaluate } from './toy.ts';

export default workerTask(toyEvaluate);
