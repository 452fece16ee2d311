import { benchRollUp } from './rollUp.ts';

benchRollUp();
