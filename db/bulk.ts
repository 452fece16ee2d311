import { sql } from 'drizzle-orm';
import type { Finding } from '../worker/engine/model/finding.ts';
import type { Ctx } from './club.ts';
import type { ListInput, Page } from './page.ts';

/** An entry as it is to stand, and as it stands; undefined: it is new. */
export interface Change<B> {
  body: B;
  before: B | undefined;
}

/** What a table of entries does many at a time, in one transaction; the rules are those of the single verbs. */
export interface Bulk<B> {
  /** What names an entry. */
  keyOf(body: B): string;
  /** The entries of these keys that are there, held until the transaction ends. */
  stored(args: { ctx: Ctx; input: { keys: readonly string[] } }): Promise<Map<string, B>>;
  /** The entries as they are to be stored: with the codes of the parts that are meant. Where it is left out, as they are. */
  asMeant?(args: { ctx: Ctx; input: readonly B[] }): Promise<readonly B[]>;
  /** What is wrong with each, by its key: what it names and is not there, or what it clashes with. */
  faults(args: { ctx: Ctx; input: readonly Change<B>[] }): Promise<Map<string, Finding[]>>;
  /** Writes entries that have no faults. At most a thousand or so: a statement takes 65,535 parameters. */
  write(args: { ctx: Ctx; input: readonly Change<B>[] }): Promise<void>;
  /** By key, where nothing else is asked. */
  page(args: { ctx: Ctx; input: ListInput }): Promise<Page<B>>;
}

/** Waits until no other transaction of the club writes many entries at once: two that wait for each other would never end. */
export async function aloneInBulk({ ctx }: { ctx: Ctx }): Promise<void> {
  await ctx.tx.execute(sql`select pg_advisory_xact_lock(hashtextextended(${`bulk ${ctx.club}`}, 0))`);
}

/** All findings of several looks, by key. */
export function together(looks: readonly ReadonlyMap<string, Finding[]>[]): Map<string, Finding[]> {
  const all = new Map<string, Finding[]>();
  for (const look of looks)
    for (const [key, findings] of look) all.set(key, [...(all.get(key) ?? []), ...findings]);
  return all;
}
