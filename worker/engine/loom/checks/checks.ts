import { byGravity, type Finding } from '../../model/finding.ts';
import { checkCableCores } from './cableCores.ts';
import { checkCableWays } from './cableWays.ts';
import { checkCircuitNames } from './circuitNames.ts';
import { checkColours } from './colours.ts';
import type { CheckContext } from './context.ts';
import { checkCoveringLengths } from './coveringLengths.ts';
import { checkCoverings } from './coverings.ts';
import { checkCountedTwice } from './countedTwice.ts';
import { checkCovers } from './covers.ts';
import { checkCurrent } from './current.ts';
import { checkDoubleWires } from './doubleWires.ts';
import { checkDoubtedFits } from './doubtedFits.ts';
import { checkEarth } from './earth.ts';
import { checkFittingPlaces, checkFittings } from './fittings.ts';
import { checkFuseEntries } from './fuseEntries.ts';
import { checkFuses } from './fuses.ts';
import { checkUnfused } from './unfused.ts';
import { checkVoltageDrop } from './voltageDrop.ts';
import { checkEnds } from './ends.ts';
import { checkFamilies } from './families.ts';
import { checkJoinerRoom } from './joinerRoom.ts';
import { checkJoiners } from './joinersUsed.ts';
import { checkLoops } from './loop.ts';
import { checkMates } from './mates.ts';
import { checkOptions } from './options.ts';
import { checkRings } from './rings.ts';
import { checkSeals } from './seals.ts';
import { checkSubstituteColours } from './substituteColours.ts';
import { checkTerminals } from './terminals.ts';
import { pointsWithEnds, type PointAt } from './terminations.ts';
import { checkUncovered } from './uncovered.ts';
import { checkWays } from './waysOfPoints.ts';
import { checkWireLengths } from './wireLengths.ts';
import { checkWhichLoom } from './whichLoom.ts';
import { checkWiresInTerminals } from './wiresInTerminals.ts';

type Check = (context: CheckContext, points: readonly PointAt[]) => Finding[];

const CHECKS: readonly Check[] = [
  checkEnds,
  checkJoiners,
  checkOptions,
  checkDoubleWires,
  checkWhichLoom,
  checkTerminals,
  checkWiresInTerminals,
  checkRings,
  checkSeals,
  checkWays,
  checkMates,
  checkFamilies,
  checkDoubtedFits,
  checkJoinerRoom,
  checkColours,
  checkSubstituteColours,
  checkCircuitNames,
  checkLoops,
  checkCableWays,
  checkCableCores,
  checkWireLengths,
  checkCurrent,
  checkVoltageDrop,
  checkFuses,
  checkFuseEntries,
  checkUnfused,
  checkEarth,
  checkCoverings,
  checkCoveringLengths,
  checkFittings,
  checkFittingPlaces,
  checkCovers,
  checkUncovered,
  checkCountedTwice,
];

/** Everything that the checks find in a normalised job, the gravest first. */
export function runChecks(context: CheckContext): Finding[] {
  const points = pointsWithEnds(context);
  return CHECKS.flatMap((check) => check(context, points)).sort(byGravity);
}
