import { clubNamed, clubNames, type Founder } from '../db/clubs.ts';
import type { Database } from '../db/connect.ts';
import { createKey, type Role } from '../db/keys.ts';
import { asSystem } from '../db/system.ts';
import { nearestName } from '../worker/engine/model/nearest.ts';

export interface Wish {
  club: string;
  role: Role;
  label: string;
  /** The club is to be made; else it must be there. */
  make: boolean;
  /** Of a club that is made. */
  currency: string;
}

/** The club is not there and was not to be made, or the other way round; the message says what to do. */
export class ClubRefused extends Error {}

/** Makes a key, and its club where that is wished. Error: ClubRefused; then nothing was made. */
export function newKey(
  database: Database,
  founder: Founder,
  { club: name, role, label, make, currency }: Wish,
): Promise<{ club: { name: string; currency: string }; secret: string }> {
  return asSystem(database, async (tx) => {
    const names = await clubNames(tx);
    const { club, made, ctx } = await clubNamed(tx, founder, { name, currency });
    // Thrown in the transaction, so that the club goes with it.
    if (made && !make) throw new ClubRefused(notThere(name, names));
    if (make && !made)
      throw new ClubRefused(`The club “${name}” already exists. To make a key for it, leave out --new.`);
    const { secret } = await createKey({ ctx, input: { role, label } });
    return { club, secret };
  });
}

function notThere(name: string, names: readonly string[]): string {
  const nearest = nearestName(name, names);
  return nearest === undefined
    ? `There is no club yet. To make the club “${name}”, add --new.`
    : `There is no club “${name}”. The nearest name there is: “${nearest}”. Correct the name, or add --new to make a new club.`;
}
