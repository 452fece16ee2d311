import { isAtHand, schwerin, t60, u250, type Instance } from '../cutting/binPacking.ts';
import { cut, cutsAll, type Piece } from '../sourcing/sleeveJob.ts';

/** How a set of published instances came out. */
export interface SetProof {
  set: string;
  instances: number;
  /** Bought for the known optimum, all pieces cut, and proven. */
  right: number;
  /** Of the others, in words. */
  wrong: string[];
  /** Seconds of processor; of the slowest also on the wall. */
  median: number;
  worst: number;
  worstOnWall: number;
}

/** Every instance through the whole engine, to the known optimum with proof. None where the data are not at hand. */
export async function binPackingProof(limitSeconds: number): Promise<SetProof[]> {
  if (!isAtHand) return [];
  return [
    await proofOf('Falkenauer u250', u250(), limitSeconds),
    await proofOf('Falkenauer t60', t60(), limitSeconds),
    await proofOf('Schwerin & Wäscher', schwerin(), limitSeconds),
  ];
}

async function proofOf(set: string, instances: readonly Instance[], limitSeconds: number): Promise<SetProof> {
  const seconds: number[] = [];
  let worstOnWall = 0;
  const wrong: string[] = [];
  for (const { name, stock, pieces, optimum } of instances) {
    const asked = pieces.map(({ mm, count }): Piece => [mm, count]);
    const found = await cut([[stock, 1]], asked, limitSeconds);
    seconds.push(found.cpuSeconds);
    worstOnWall = Math.max(worstOnWall, found.wallSeconds);
    const isRight = found.status === 'proven' && found.cost === optimum && cutsAll(found, asked);
    if (!isRight)
      wrong.push(`${set} ${name}: ${found.status}, ${found.cost} for ${optimum}, bound ${found.bound}`);
  }
  seconds.sort((a, b) => a - b);
  return {
    set,
    instances: instances.length,
    right: instances.length - wrong.length,
    wrong,
    median: seconds[seconds.length >> 1] ?? 0,
    worst: seconds.at(-1) ?? 0,
    worstOnWall,
  };
}
