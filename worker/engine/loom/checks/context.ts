import type { Job } from '../../model/job.ts';
import type { Part } from '../../model/part.ts';
import type { AskedLoom } from '../asked.ts';
import type { Branches } from '../graph/branches.ts';
import type { Circuits } from '../graph/circuits.ts';
import type { Coverings } from '../coverings/layers.ts';
import type { Protection } from '../protection/protection.ts';
import type { Fits } from '../../job/fits.ts';
import type { StandFor } from '../wires/substitutes.ts';
import type { WireFigures } from '../wires/wireFigures.ts';

/** What the checks of a normalised job look at. */
export interface CheckContext {
  job: Job;
  looms: readonly AskedLoom[];
  parts: ReadonlyMap<string, Part>;
  circuits: Circuits;
  /** Which fuse stands before which wire. */
  protection: Protection;
  fits: Fits;
  figures: WireFigures;
  standFor: StandFor;
  branches: Branches;
  coverings: Coverings;
}
