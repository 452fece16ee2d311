import { chmodSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { ClubCtx } from './club.ts';
import { asClub } from './club.ts';
import { clubNamed, hasClubs } from './clubs.ts';
import type { Database } from './connect.ts';
import { createKey } from './keys.ts';

export const ADMIN_KEY_FILE = 'admin-key';

/**
 * The first start of an embedded folder: makes one club and one admin key, and keeps the key in the folder, readable by
 * its owner alone. Returns the secret, or undefined where there is a club already.
 */
export async function firstStart(
  database: Database,
  folder: string,
  input: { name: string; currency: string; now: () => Date; newId: () => string },
): Promise<string | undefined> {
  if (await hasClubs(database)) return undefined;
  const { club } = await clubNamed(database, {
    name: input.name,
    currency: input.currency,
    id: input.newId(),
    now: input.now(),
  });
  const ctx: ClubCtx = {
    club: club.id,
    actor: 'system',
    role: 'admin',
    requestId: 'first-start',
    now: input.now,
    newId: input.newId,
  };
  return asClub(database, ctx, async (ctx) => {
    const { secret } = await createKey({ ctx, input: { role: 'admin', label: 'first admin key' } });
    const file = join(folder, ADMIN_KEY_FILE);
    // Written before the commit: a key that is stored is in the file too.
    writeFileSync(file, `${secret}\n`, { mode: 0o600 });
    chmodSync(file, 0o600);
    return secret;
  });
}
