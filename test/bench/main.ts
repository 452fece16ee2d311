import { benchExamples } from './examples.ts';
import { benchRollUp } from './rollUp.ts';

benchRollUp();
await benchExamples();
