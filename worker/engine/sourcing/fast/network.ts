import type { Block, Step } from './blocks.ts';
import type { Seller } from './sellers.ts';

/** Blocks and sellers as flat numbers: a link joins a block to a seller that has something for it. */
export interface Network {
  blocks: readonly Block[];
  sellers: readonly Seller[];
  links: number;
  sellerOf: Int32Array;
  blockOf: Int32Array;
  /** The most and the least that a link's goods come to where it is used. */
  most: Float64Array;
  least: Float64Array;
  steps: readonly (readonly Step[])[];
  linksOfSeller: readonly Int32Array[];
  linksOfBlock: readonly Int32Array[];
}

export function networkOf(blocks: readonly Block[], sellers: readonly Seller[]): Network {
  const sellerOf: number[] = [];
  const blockOf: number[] = [];
  const steps: (readonly Step[])[] = [];
  const ofSeller: number[][] = sellers.map(() => []);
  const ofBlock: number[][] = blocks.map(() => []);
  blocks.forEach(({ stairs }, block) => {
    for (const stair of stairs) {
      ofSeller[stair.seller]?.push(steps.length);
      ofBlock[block]?.push(steps.length);
      sellerOf.push(stair.seller);
      blockOf.push(block);
      steps.push(stair.steps);
    }
  });
  return {
    blocks,
    sellers,
    links: steps.length,
    sellerOf: Int32Array.from(sellerOf),
    blockOf: Int32Array.from(blockOf),
    most: Float64Array.from(steps, (list) => list.at(-1)?.value ?? 0),
    least: Float64Array.from(steps, (list) => list[0]?.value ?? 0),
    steps,
    linksOfSeller: ofSeller.map((list) => Int32Array.from(list)),
    linksOfBlock: ofBlock.map((list) => Int32Array.from(list)),
  };
}
