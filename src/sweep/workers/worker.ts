import { compileStudy } from '../study/compile.ts';
import type { Study } from '../study/study.ts';
import { workerTask } from './task.ts';

/** What every thread of the pool runs: the study compiled once, then runs of its points. */
export default workerTask((study: Study) => compileStudy(study).evaluate);
