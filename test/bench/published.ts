import { binPackingProof } from '../proof/binPacking.ts';
import type { Published } from './targets.ts';

const SECONDS = 60;

/** The published cutting instances through the whole engine; undefined where they are not at hand. */
export async function benchPublished(): Promise<Published | undefined> {
  const sets = await binPackingProof(SECONDS);
  if (sets.length === 0) {
    console.log('Published cutting instances: not at hand, skipped');
    return undefined;
  }
  console.log('Published cutting instances, each a whole quote');
  console.table(
    sets.map(({ set, instances, right, median, worst, worstOnWall }) => ({
      set,
      'proven optimal': `${right} of ${instances}`,
      'median, CPU s': median.toFixed(2),
      'worst, CPU s': worst.toFixed(2),
      'wall: worst, s': worstOnWall.toFixed(2),
    })),
  );
  return {
    instances: sets.reduce((sum, set) => sum + set.instances, 0),
    right: sets.reduce((sum, set) => sum + set.right, 0),
    worst: Math.max(...sets.map(({ worst }) => worst)),
  };
}
