import { byGravity, type Finding } from '../../model/finding.ts';
import { checkCableWays } from './cableWays.ts';
import { checkCircuitNames } from './circuitNames.ts';
import { checkColours } from './colours.ts';
import type { CheckContext } from './context.ts';
import { checkCoverings } from './coverings.ts';
import { checkCovers } from './covers.ts';
import { checkCurrent } from './current.ts';
import { checkEarth } from './earth.ts';
import { checkFittingPlaces, checkFittings } from './fittings.ts';
import { checkFuses } from './fuses.ts';
import { checkVoltageDrop } from './voltageDrop.ts';
import { checkEnds } from './ends.ts';
import { checkFamilies } from './families.ts';
import { checkJoinerRoom } from './joinerRoom.ts';
import { checkJoiners } from './joinersUsed.ts';
import { checkLoops } from './loop.ts';
import { checkMates } from './mates.ts';
import { checkOptions } from './options.ts';
import { checkSeals } from './seals.ts';
import { checkSubstituteColours } from './substituteColours.ts';
import { checkTerminals } from './terminals.ts';
import { pointsWithEnds, type PointAt } from './terminations.ts';
import { checkWays } from './waysOfPoints.ts';
import { checkWhichLoom } from './whichLoom.ts';
import { checkWiresInTerminals } from './wiresInTerminals.ts';

type Check = (context: CheckContext, points: readonly PointAt[]) => Finding[];

const CHECKS: readonly Check[] = [
  ({ looms, job }) => checkEnds(looms, job.parts),
  checkJoiners,
  checkOptions,
  checkWhichLoom,
  checkTerminals,
  checkWiresInTerminals,
  checkSeals,
  checkWays,
  checkMates,
  checkFamilies,
  checkJoinerRoom,
  checkColours,
  checkSubstituteColours,
  checkCircuitNames,
  checkLoops,
  checkCableWays,
  checkCurrent,
  checkVoltageDrop,
  checkFuses,
  checkEarth,
  checkCoverings,
  checkFittings,
  checkFittingPlaces,
  checkCovers,
];

/** Everything that the checks find in a normalised job, the gravest first. */
export function runChecks(context: CheckContext): Finding[] {
  const points = pointsWithEnds(context);
  return CHECKS.flatMap((check) => check(context, points)).sort(byGravity);
}
