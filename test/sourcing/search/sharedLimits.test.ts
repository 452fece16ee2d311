import { expect, test } from 'vitest';
import { firstPlans } from '../../../worker/engine/sourcing/search/firstPlans.ts';
import { Master } from '../../../worker/engine/sourcing/search/master.ts';
import { Relaxation } from '../../../worker/engine/sourcing/search/relaxation.ts';
import { problemOf } from '../../bench/direct.ts';
import { gbp, needing, pack, supplier, unhurried } from '../../engine/fixtures.ts';
import { allOpen, networkFor } from './network.ts';

const kit = (code: string, price: string, ...parts: string[]) => ({
  form: 'kit' as const,
  code,
  supplier: 's',
  packPrice: gbp(price),
  contents: parts.map((part) => ({ part, quantity: 1 })),
});

test('a plan that needs more of one kit than is allowed is in no use, though it keeps to what another is held to', async () => {
  // Two of the first kit and one of the second give three clips for the least; a pack of three costs more than another first kit.
  const problem = problemOf(
    needing(
      { clip: 3, tie: 1, boot: 1 },
      [supplier('s')],
      [
        kit('first', '1.00', 'clip', 'tie'),
        kit('second', '10.00', 'clip', 'boot'),
        pack('three', 's', 'clip', 3, '8.00'),
      ],
    ),
  );
  const network = await networkFor(problem);
  if (!network) throw new Error('the search takes it');
  const master = await Master.of(network);
  master.addPlans(firstPlans(network));
  const relaxation = new Relaxation(network, master, unhurried);
  const relaxed = (first: number, second: number) => {
    const found = relaxation.of(
      {
        ground: {
          ...allOpen(network),
          shared: { least: new Float64Array(2), most: Float64Array.of(first, second) },
        },
        bound: -Infinity,
      },
      { limit: () => Infinity },
    );
    if (!found || 'closedBy' in found) throw new Error('there are mixes');
    return { bound: Math.round(found.bound), asked: [...found.shared.asked] };
  };
  expect(relaxed(2, 2)).toEqual({ bound: 1200, asked: [2, 1] });
  // One clip of each kit, and a pack beside them.
  expect(relaxed(1, 1).bound).toBe(1900);
  expect(relaxed(1, 1).asked[0]).toBeLessThanOrEqual(1);
  master.dispose();
});
