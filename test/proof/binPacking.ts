import { isAtHand, schwerin, t60, u250, type Instance } from '../cutting/binPacking.ts';
import { cut, cutsAll, type Piece } from '../sourcing/sleeveJob.ts';

/** How a set of published instances came out. */
export interface SetProof {
  set: string;
  instances: number;
  /** Bought for the known optimum, all pieces cut, and proven. */
  right: number;
  median: number;
  worst: number;
}

const SECONDS = 120;

/** Every instance through the whole engine, to the known optimum with proof. None where the data are not at hand. */
export async function binPackingProof(): Promise<SetProof[]> {
  if (!isAtHand) return [];
  return [
    await proofOf('Falkenauer u250', u250()),
    await proofOf('Falkenauer t60', t60()),
    await proofOf('Schwerin & Wäscher', schwerin()),
  ];
}

async function proofOf(set: string, instances: readonly Instance[]): Promise<SetProof> {
  const seconds: number[] = [];
  let right = 0;
  for (const { name, stock, pieces, optimum } of instances) {
    const asked = pieces.map(({ mm, count }): Piece => [mm, count]);
    const found = await cut([[stock, 1]], asked, SECONDS);
    seconds.push(found.seconds);
    const isRight = found.status === 'proven' && found.cost === optimum && cutsAll(found, asked);
    if (isRight) right += 1;
    else console.log(`${set} ${name}: ${found.status}, ${found.cost} for ${optimum}, bound ${found.bound}`);
  }
  seconds.sort((a, b) => a - b);
  return {
    set,
    instances: instances.length,
    right,
    median: seconds[seconds.length >> 1] ?? 0,
    worst: seconds.at(-1) ?? 0,
  };
}
