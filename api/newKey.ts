import { clubNamed, clubNames, type Founder } from '../db/clubs.ts';
import type { Database } from '../db/connect.ts';
import type { Ctx } from '../db/club.ts';
import { createKey, lesserOf, type Role } from '../db/keys.ts';
import { createMember, membersNamed } from '../db/members.ts';
import { asSystem } from '../db/system.ts';
import { nearestName } from '../worker/engine/model/nearest.ts';

export interface Wish {
  club: string;
  role: Role;
  label: string;
  /** Whose the key is to be, by name; made with the key's role where there is none. Left out: nobody's. */
  member?: string | undefined;
  /** The club is to be made; else it must be there. */
  make: boolean;
  /** Of a club that is made. */
  currency: string;
}

/** The club or the member cannot be the one that is meant; the message says what to do. */
export class KeyRefused extends Error {}

export interface NewKey {
  club: { name: string; currency: string };
  /** Whose the key is, and whether they are new. */
  member: { name: string; made: boolean } | undefined;
  /** What the key opens: no more than its member may. */
  role: Role;
  secret: string;
}

/** Makes a key, and its club and member where that is wished. Error: KeyRefused; then nothing was made. */
export function newKey(
  database: Database,
  founder: Founder,
  { club: name, role, label, member: wanted, make, currency }: Wish,
): Promise<NewKey> {
  return asSystem(database, async (tx) => {
    const names = await clubNames(tx);
    const { club, made, ctx } = await clubNamed(tx, founder, { name, currency });
    // Thrown in the transaction, so that the club goes with it.
    if (made && !make) throw new KeyRefused(notThere(name, names));
    if (make && !made)
      throw new KeyRefused(`The club “${name}” already exists. To make a key for it, leave out --new.`);
    const member = wanted === undefined ? undefined : await memberNamed(ctx, wanted, role);
    const { secret } = await createKey({ ctx, input: { role, label, memberId: member?.id } });
    return { club, member, role: member ? lesserOf(role, member.role) : role, secret };
  });
}

/** The member of that name, made with this role where there is none. Error: KeyRefused where there are several. */
async function memberNamed(
  ctx: Ctx,
  name: string,
  role: Role,
): Promise<{ id: string; name: string; role: Role; made: boolean }> {
  const [one, ...others] = await membersNamed({ ctx, input: { name } });
  if (others.length > 0)
    throw new KeyRefused(
      `There are ${others.length + 1} members with the name “${name}”. An admin can make the key for one of them, by their id: POST /v1/keys {"role": "${role}", "label": "…", "member": "…"}. GET /v1/members has the ids.`,
    );
  return one
    ? { ...one, made: false }
    : { ...(await createMember({ ctx, input: { name, role } })), made: true };
}

function notThere(name: string, names: readonly string[]): string {
  const nearest = nearestName(name, names);
  return nearest === undefined
    ? `There is no club yet. To make the club “${name}”, add --new.`
    : `There is no club “${name}”. The nearest name there is: “${nearest}”. Correct the name, or add --new to make a new club.`;
}
