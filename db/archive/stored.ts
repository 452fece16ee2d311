import type { Standing } from '../schema/columns.ts';
import type {
  fitReports,
  loomRevisions,
  looms,
  members,
  offerPrices,
  parts,
  quotes,
  synonyms,
  winningPrices,
  audit,
} from '../schema/index.ts';
import type { Task } from '../tasks.ts';
import type { Entry, EntryOf, TaskEntry } from './entries.ts';

/** Rows as the entries that an archive has of them. */

type CatalogueType = 'part' | 'supplier' | 'offer' | 'fit' | 'rate' | 'lane' | 'stock';
type Authored = Pick<typeof parts.$inferSelect, 'createdBy' | 'updatedBy'>;
type Dated = Authored & Pick<typeof parts.$inferSelect, 'version' | 'createdAt' | 'updatedAt'>;

const authored = ({ createdBy, updatedBy }: Authored) => ({
  ...(createdBy === null ? {} : { createdBy }),
  ...(updatedBy === null ? {} : { updatedBy }),
});

const dated = ({ version, createdAt, updatedAt, ...authors }: Dated) => ({
  version,
  createdAt: createdAt.toISOString(),
  updatedAt: updatedAt.toISOString(),
  ...authored(authors),
});

const owned = ({ ownerId, private: isPrivate }: { ownerId: string | null; private: boolean }) => ({
  ...(ownerId === null ? {} : { owner: ownerId }),
  ...(isPrivate ? { private: true as const } : {}),
});

/** How far an entry is trusted, what it became and whose it is, where its table tells. */
interface Trusted {
  standing?: Standing;
  mergedInto?: string | null;
  ownerId?: string | null;
}

export function memberEntry(row: typeof members.$inferSelect): EntryOf<'member'> {
  const { id, name, note, role, joinedAt, leftAt, version } = row;
  return {
    type: 'member',
    id,
    name,
    ...(note === null ? {} : { note }),
    role,
    joinedAt: joinedAt.toISOString(),
    ...(leftAt ? { leftAt: leftAt.toISOString() } : {}),
    version,
  };
}

export function synonymsEntry(row: typeof synonyms.$inferSelect): EntryOf<'synonyms'> {
  const { groups, version, updatedAt, updatedBy } = row;
  return {
    type: 'synonyms',
    groups,
    version,
    updatedAt: updatedAt.toISOString(),
    ...(updatedBy === null ? {} : { updatedBy }),
  };
}

export function offerPriceEntry(row: typeof offerPrices.$inferSelect): EntryOf<'offerPrice'> {
  const { offerCode: offer, number, seenFirst, seenLast, seen, goneOn, putInAt, putInBy, body } = row;
  return {
    type: 'offerPrice',
    offer,
    number,
    seenFirst,
    seenLast,
    seen,
    ...(goneOn === null ? {} : { goneOn }),
    putInAt: putInAt.toISOString(),
    ...(putInBy === null ? {} : { putInBy }),
    body,
  };
}

export function catalogueEntry(type: CatalogueType, row: Dated & { body: unknown } & Trusted): Entry {
  const { standing, mergedInto = null, ownerId = null } = row;
  return {
    type,
    body: row.body,
    ...dated(row),
    ...(standing === 'proposed' ? { standing } : {}),
    ...(mergedInto === null ? {} : { mergedInto }),
    ...(ownerId === null ? {} : { owner: ownerId }),
  } as Entry;
}

export function fitReportEntry(row: typeof fitReports.$inferSelect): EntryOf<'fitReport'> {
  const { fromPart: from, relation, toPart: to, id, at, actor, says } = row;
  const { memberId: member, vehicle, loomCode: loom, note, photo } = row;
  return {
    type: 'fitReport',
    from,
    relation,
    to,
    id,
    at: at.toISOString(),
    actor,
    ...(member === null ? {} : { member }),
    says,
    ...(vehicle === null ? {} : { vehicle }),
    ...(loom === null ? {} : { loom }),
    ...(note === null ? {} : { note }),
    ...(photo === null ? {} : { photo }),
  };
}

export function loomEntry(row: typeof looms.$inferSelect): EntryOf<'loom'> {
  const { code, latestRevision, createdAt, updatedAt } = row;
  return {
    type: 'loom',
    code,
    latestRevision,
    createdAt: createdAt.toISOString(),
    updatedAt: updatedAt.toISOString(),
    ...authored(row),
    ...owned(row),
  };
}

export function revisionEntry(row: typeof loomRevisions.$inferSelect): EntryOf<'revision'> {
  const { loomCode: loom, revision, createdAt, createdBy, body } = row;
  return { type: 'revision', loom, revision, createdAt: createdAt.toISOString(), createdBy, body };
}

/** A task that is queued or worked has no end to keep: it waits again where it is restored. */
function taskEntry(task: Task): TaskEntry {
  const { state, cancelAsked, attempts, progressNumber, progress, problem, startedAt, finishedAt } = task;
  const createdAt = task.createdAt.toISOString();
  if (state === 'queued' || state === 'running') return { state: 'queued', cancelAsked, createdAt };
  return {
    state,
    cancelAsked,
    attempts,
    progressNumber,
    progress,
    ...(problem ? { problem } : {}),
    createdAt,
    ...(startedAt ? { startedAt: startedAt.toISOString() } : {}),
    ...(finishedAt ? { finishedAt: finishedAt.toISOString() } : {}),
    ...(task.workSeconds === null ? {} : { workSeconds: task.workSeconds }),
  };
}

const parsed = (text: string) => JSON.parse(text) as Record<string, unknown>;

export function quoteEntry(row: typeof quotes.$inferSelect, task: Task): EntryOf<'quote'> {
  const { id, asOf, createdAt, createdBy, restOf, keepUntil, request, jobHash, job, result } = row;
  return {
    type: 'quote',
    id,
    asOf,
    createdAt: createdAt.toISOString(),
    createdBy,
    ...owned(row),
    ...(restOf === null ? {} : { restOf }),
    ...(keepUntil === null ? {} : { keepUntil }),
    request,
    task: taskEntry(task),
    ...(jobHash === null ? {} : { jobHash }),
    ...(job === null ? {} : { job: parsed(job) }),
    ...(result === null ? {} : { result: parsed(result) }),
  };
}

export function winningPriceEntry(
  row: typeof winningPrices.$inferSelect,
  task: Task,
): EntryOf<'winningPrice'> {
  const { quoteId: quote, offerCode: offer, createdAt, createdBy, answer } = row;
  return {
    type: 'winningPrice',
    quote,
    offer,
    createdAt: createdAt.toISOString(),
    createdBy,
    task: taskEntry(task),
    ...(answer === null ? {} : { answer: parsed(answer) }),
  };
}

export function auditEntry(row: typeof audit.$inferSelect): EntryOf<'audit'> {
  const { id, at, actor, requestId, action, subject, thing, before, after, memberId, privateTo } = row;
  return {
    type: 'audit',
    id,
    at: at.toISOString(),
    actor,
    requestId,
    action,
    subject,
    thing,
    ...(before === null ? {} : { before }),
    ...(after === null ? {} : { after }),
    ...(memberId === null ? {} : { memberId }),
    ...(privateTo === null ? {} : { privateTo }),
  };
}
