import { describe, test } from 'vitest';

describe('of equally cheap mixes', () => {
  // 4.4 m of pieces; 5 m and 6 m at 5 pounds each: the 6 m one, which leaves 1.6 m.
  test.todo('the longer length is bought where it costs the same');
  // 9 m at 0.50 or, from 10 m on, at 0.45: 4.50 either way; 10 m is bought.
  test.todo('by the metre the longer one is bought where a break makes it cost the same');
  // A minimum order of 10 pounds that is charged all the same: one length of 5 pounds is bought, not two.
  test.todo('no second length is bought that nothing is cut from');
  // 4.4 m of pieces, 6 m at 5 pounds, and 3 m on the shelf: the shelf is left alone.
  test.todo('nothing is taken off the shelf that is not needed');
});
