import { chmodSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { asc, isNull, and, eq } from 'drizzle-orm';
import { clubNamed, type Founder } from './clubs.ts';
import type { Database } from './connect.ts';
import { createKey } from './keys.ts';
import { clubs, keys } from './schema/index.ts';
import { asSystem } from './system.ts';

export const ADMIN_KEY_FILE = 'admin-key';

/**
 * The first start of an embedded folder: makes one club and one admin key in one transaction, and keeps the key in the
 * folder, readable by its owner alone. A folder whose admin keys were all revoked gets a new one for its oldest club.
 * Returns the secret, or undefined where some admin key opens a club already.
 */
export function firstStart(
  database: Database,
  folder: string,
  input: { name: string; currency: string; now: () => Date; newId: () => string },
): Promise<string | undefined> {
  const { name, currency, ...clock } = input;
  const founder: Founder = { ...clock, actor: 'system', role: 'admin', requestId: 'first-start' };
  return asSystem(database, async (tx) => {
    const admins = await tx
      .select({ id: keys.id })
      .from(keys)
      .where(and(eq(keys.role, 'admin'), isNull(keys.revokedAt)))
      .limit(1);
    if (admins.length > 0) return undefined;
    const [oldest] = await tx.select().from(clubs).orderBy(asc(clubs.createdAt), asc(clubs.id)).limit(1);
    const { ctx } = await clubNamed(tx, founder, { name: oldest?.name ?? name, currency });
    const { secret } = await createKey({ ctx, input: { role: 'admin', label: 'first admin key' } });
    const file = join(folder, ADMIN_KEY_FILE);
    // Written before the commit: a key that is stored is in the file too.
    writeFileSync(file, `${secret}\n`, { mode: 0o600 });
    chmodSync(file, 0o600);
    return secret;
  });
}
