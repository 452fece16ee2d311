import { v7 as uuidv7 } from 'uuid';
import type { Founder } from '../../db/clubs.ts';

/** Who makes clubs in tests. */
export const testFounder: Founder = {
  actor: 'test',
  role: 'admin',
  requestId: 'test',
  now: () => new Date(),
  newId: uuidv7,
};
