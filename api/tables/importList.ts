import { createReadStream } from 'node:fs';
import { asClub, type ClubCtx, type Ctx } from '../../db/club.ts';
import { getClub } from '../../db/clubs.ts';
import type { Database } from '../../db/connect.ts';
import { Stale } from '../../db/errors.ts';
import {
  addRevision,
  loomAsMeant,
  getRevision,
  requireChangeable,
  type StoredRevision,
} from '../../db/looms.ts';
import { unknownNames } from '../../db/references.ts';
import { isVersion, type Changeable, type Version } from '../../db/version.ts';
import { canonicalJson } from '../../worker/engine/model/canonical.ts';
import { faultsOf } from '../../worker/engine/model/faults.ts';
import { pointer, type Finding } from '../../worker/engine/model/finding.ts';
import { addTo } from '../../worker/engine/model/group.ts';
import { LoomRevision } from '../../worker/engine/model/loom.ts';
import { partsNamed } from '../../worker/engine/model/loomReferences.ts';
import { parsed } from '../../worker/engine/model/parsed.ts';
import { pathOf } from '../../worker/tables/check.ts';
import type { Fields } from '../../worker/tables/column.ts';
import { importTable, type Against, type Thing } from '../../worker/tables/importTable.ts';
import { tableOf, type Table } from '../../worker/tables/tables.ts';
import { breather } from '../http/breather.ts';
import { listIn, loomContext, type ListName } from './looms.ts';
import { readingOf, type OffersQuery } from './query.ts';
import { presentSummary, type ListImport } from './summary.ts';
import { unstorableIn } from './storable.ts';

interface Asked {
  code: string;
  table: ListName;
  file: string;
  query: Pick<OffersQuery, 'preview' | 'decimalComma' | 'separator'>;
  /** The revisions that may be changed: the ones that the caller read, or the latest. */
  version: Changeable;
}

/** Most names that are told of what was taken out. */
const MOST_CODES = 200;

/**
 * Puts a file in place of one list of a loom, as its next revision; a list that is the same makes none. Nothing is written
 * while there is any fault: a list without some of its rows is another loom. Errors: NotFound, Stale, Forbidden.
 */
export function importList(
  database: Database,
  base: ClubCtx,
  asked: Asked,
): Promise<{ told: ListImport; version: Version }> {
  return asClub(database, base, async (ctx) => {
    await requireChangeable({ ctx, input: { code: asked.code } });
    const stored = await getRevision({ ctx, input: { code: asked.code } });
    const latest = { version: stored.version.number, createdAt: new Date(stored.version.born) };
    if (!isVersion(latest, asked.version)) throw new Stale();
    const table = tableOf(asked.table);
    // An old code of a part and its new one, or its number, are one.
    const before = listIn(await loomAsMeant(ctx, stored.body), table);
    const { after, summary } = await readList(ctx, stored, asked, before);
    const left = after && missing(table, before, after);
    const removed = {
      removed: left?.length ?? 0,
      removedCodes: (left ?? [])
        .flatMap(({ id }) => (typeof id === 'string' ? [id] : []))
        .slice(0, MOST_CODES),
    };
    const stays = asked.query.preview === 'true' || !after;
    if (stays || canonicalJson(after) === canonicalJson(before))
      return {
        told: {
          ...presentSummary(named(summary, asked.code), !stays),
          ...removed,
          revision: stored.revision,
        },
        version: stored.version,
      };
    const body = LoomRevision.parse({ ...stored.body, [table.list]: after });
    const next = await addRevision({ ctx, input: { code: asked.code, latest: [stored.version], body } });
    return {
      told: { ...presentSummary(named(summary, asked.code), true), ...removed, revision: next.revision },
      version: next.version,
    };
  });
}

async function readList(
  ctx: Ctx,
  stored: StoredRevision,
  { code, table: name, file, query }: Asked,
  before: readonly Fields[],
) {
  const table = tableOf(name);
  const hasNames = table.key.length > 0;
  const byId = new Map(before.map((thing) => [thing['id'], thing]));
  const there = new Map<string, Fields[]>();
  for (const thing of before) addTo(there, canonicalJson(thing), thing);
  const context = loomContext(await getClub({ ctx }), stored.body);
  const read: { after?: Fields[] } = {};
  const summary = await importTable({
    table,
    bytes: createReadStream(file),
    options: { ...readingOf(query), context: () => context, pause: breather() },
    whole: true,
    ...(hasNames
      ? {
          existing: async (keys: readonly string[]) =>
            new Map(
              keys.flatMap((key) => {
                const thing = byId.get(ownKey(key, code));
                return thing ? [[key, thing] as const] : [];
              }),
            ),
        }
      : { isThere: (thing: Fields) => there.get(canonicalJson(thing))?.pop() !== undefined }),
    asMeant: async (things) =>
      listIn(await loomAsMeant(ctx, { ...stored.body, [table.list]: things }), table),
    check: (things, faults) => against(ctx, stored, table, things, faults),
    write: async (things) => void (read.after = things.map(({ thing }) => thing)),
  });
  return { summary, after: read.after };
}

/** A row may state the loom that it belongs to. */
const ownKey = (key: string, loom: string) => (key.startsWith(`${loom}/`) ? key.slice(loom.length + 1) : key);

function named<S extends { rows: readonly { key: string }[] }>(summary: S, loom: string): S {
  return { ...summary, rows: summary.rows.map((row) => ({ ...row, key: ownKey(row.key, loom) })) };
}

/** What is wrong with the loom that would come of it, at the row that it is of; else as one of the file. */
async function against(
  ctx: Ctx,
  { code, body }: StoredRevision,
  table: Table,
  things: readonly Thing[],
  faults: number,
): Promise<Against> {
  const rows = new Map<number, Finding[]>(unstorableIn(things));
  for (const { row, loom } of things)
    if (loom !== undefined && loom !== code) addTo(rows, row, ofAnother(loom, code));
  const file: Finding[] = [];
  const list = things.map(({ thing }) => thing);
  const next = { ...body, [table.list]: list };
  const named = partsNamed(await loomAsMeant(ctx, next)).filter(({ path }) => path[0] === table.list);
  let found = await unknownNames(
    ctx,
    'part',
    named.map(({ part, path }) => ({ code: part, path })),
  );
  // Of a list that lacks its faulty rows nobody can say what it does not have.
  if (faults === 0) {
    const read = parsed(LoomRevision, next);
    if (!read.success) found = [...found, ...faultsOf(read.error, next, LoomRevision)];
  }
  for (const finding of found) {
    const [first, at, ...path] = pathOf(finding.at);
    const thing = first === table.list ? things[Number(at)] : undefined;
    if (thing) addTo(rows, thing.row, { ...finding, at: pointer(path) });
    else file.push(finding);
  }
  return { rows, file };
}

function ofAnother(found: string, code: string): Finding {
  return {
    code: 'other-loom',
    severity: 'stop',
    at: '/loom',
    where: 'loom',
    found: JSON.stringify(found),
    limit: code,
    todo: `This table is of the loom ${code}. Send this row with that of ${found}, or empty the cell.`,
  };
}

/** What was in a list and is no longer. */
function missing(table: Table, before: readonly Fields[], after: readonly Fields[]): Fields[] {
  const keyOf = (thing: Fields) => (table.key.length > 0 ? String(thing['id']) : canonicalJson(thing));
  const left = new Map<string, Fields[]>();
  for (const thing of before) addTo(left, keyOf(thing), thing);
  for (const thing of after) left.get(keyOf(thing))?.pop();
  return [...left.values()].flat();
}
