import { z } from 'zod';
import { canonicalJson } from '../../worker/engine/model/canonical.ts';
import { Code, count, Day, Name, Note } from '../../worker/engine/model/code.ts';
import { Finding } from '../../worker/engine/model/finding.ts';
import { Fit, FitRelation } from '../../worker/engine/model/fit.ts';
import { ClubTerms } from '../../worker/engine/model/job.ts';
import { Lane } from '../../worker/engine/model/lane.ts';
import { LIMITS } from '../../worker/engine/model/limits.ts';
import { LoomRevision } from '../../worker/engine/model/loom.ts';
import { Currency } from '../../worker/engine/model/money.ts';
import { Offer } from '../../worker/engine/model/offer.ts';
import { Part } from '../../worker/engine/model/part.ts';
import { Rate } from '../../worker/engine/model/rate.ts';
import { requestFaults, requestShape } from '../../worker/engine/model/request.ts';
import { StockItem } from '../../worker/engine/model/stock.ts';
import { Supplier } from '../../worker/engine/model/supplier.ts';
import { ROLES } from '../schema/index.ts';
import { SynonymGroups } from '../synonyms.ts';
import {
  MovementEntry,
  OrderEntry,
  OrderEntryEntry,
  ReceiptEntry,
  ReservationEntry,
} from './orderEntries.ts';
import { Id, Moment, Number32, Words } from './primitives.ts';

/** The forms that each line of an archive has, one a type: docs/archive.md describes them. */

/**
 * What was done to keys and invitations, which stay behind, and what tells of one database alone. No archive has these rows of
 * the history.
 */
export const ACTIONS_LEFT_OUT = [
  'club.create',
  'key.create',
  'key.revoke',
  'invitation.create',
  'invitation.use',
  'invitation.end',
  'archive.import',
];

/** Actors, as the record has them. Left out: before members were kept. */
const authors = { createdBy: Words.optional(), updatedBy: Words.optional() };

/** A member's id. Left out: the club's. */
const owner = Id.optional();

/** Whose a loom or a quote is, and whether nobody else sees it. Archives before members have neither. */
const owned = { owner, private: z.literal(true).optional() };

/** Error: what is to be seen by its owner alone, and has none. */
function refuseOwnerless(
  { owner, private: isPrivate }: { owner?: string | undefined; private?: true | undefined },
  issues: z.RefinementCtx,
): void {
  if (!isPrivate || owner !== undefined) return;
  const message = 'what only its owner sees has an owner';
  issues.addIssue({ code: 'custom', path: ['owner'], message, params: { code: 'no-owner' } });
}

const entry = <T extends string, S extends z.ZodType>(type: T, body: S) =>
  z.strictObject({
    type: z.literal(type),
    body,
    version: Number32,
    createdAt: Moment,
    updatedAt: Moment,
    ...authors,
  });

/** A part or an offer that a member put in and no editor has confirmed. */
const standing = z.literal('proposed').optional();

const Progress = z.strictObject({
  phase: z.enum(['loading', 'rollUp', 'sourcing', 'beside', 'buildOrBuy', 'writing']),
  percent: z.number().optional(),
  message: Words,
  figures: z
    .strictObject({
      currency: Currency,
      best: Words,
      bound: Words.optional(),
      gapPercent: z.number().optional(),
    })
    .optional(),
});

/** A task that has ended, as it ended; any other comes back as one that waits. */
const Task = z.discriminatedUnion('state', [
  z.strictObject({ state: z.literal('queued'), cancelAsked: z.boolean(), createdAt: Moment }),
  z.strictObject({
    state: z.enum(['done', 'failed', 'cancelled']),
    cancelAsked: z.boolean(),
    attempts: count(0),
    progressNumber: Number32,
    progress: Progress,
    problem: z
      .strictObject({
        code: z.string(),
        title: z.string(),
        detail: z.string(),
        findings: z.array(Finding).optional(),
      })
      .optional(),
    createdAt: Moment,
    startedAt: Moment.optional(),
    finishedAt: Moment.optional(),
    workSeconds: z.number().min(0).optional(),
  }),
]);
export type TaskEntry = z.infer<typeof Task>;

const PinnedRequest = z
  .strictObject({
    ...requestShape,
    looms: z
      .array(requestShape.looms.element.extend({ revision: count(1) }))
      .min(1)
      .max(LIMITS.quoteLooms),
  })
  .superRefine((request, issues) => {
    for (const { code, path, message } of requestFaults(request))
      issues.addIssue({ code: 'custom', path, message, params: { code } });
  });

/** What a quote’s documents hold is checked apart, by the reader of stored documents. */
const StoredDocument = z.record(z.string(), z.unknown());

export const ENTRY_SCHEMAS = {
  club: z.strictObject({ type: z.literal('club'), terms: ClubTerms }),
  member: z.strictObject({
    type: z.literal('member'),
    id: Id,
    name: Name,
    note: Note.optional(),
    role: z.enum(ROLES),
    joinedAt: Moment,
    leftAt: Moment.optional(),
    version: Number32,
  }),
  synonyms: z.strictObject({
    type: z.literal('synonyms'),
    groups: SynonymGroups,
    version: Number32,
    updatedAt: Moment,
    updatedBy: Words.optional(),
  }),
  part: entry('part', Part).extend({ standing, mergedInto: Code.optional() }),
  supplier: entry('supplier', Supplier),
  offerPrice: z
    .strictObject({
      type: z.literal('offerPrice'),
      offer: Code,
      number: Number32,
      seenFirst: Day,
      seenLast: Day,
      seen: z.boolean(),
      goneOn: Day.optional(),
      putInAt: Moment,
      putInBy: Words.optional(),
      body: Offer,
    })
    .superRefine(({ seenFirst, seenLast, goneOn = seenLast }, issues) => {
      if (seenFirst <= seenLast && seenLast <= goneOn) return;
      const message = 'seenFirst, seenLast and goneOn follow each other';
      issues.addIssue({ code: 'custom', path: ['seenLast'], message, params: { code: 'not-in-order' } });
    }),
  offer: entry('offer', Offer).extend({ standing }),
  fit: entry('fit', Fit),
  fitReport: z.strictObject({
    type: z.literal('fitReport'),
    from: Code,
    relation: FitRelation,
    to: Code,
    id: Id,
    at: Moment,
    actor: Words,
    member: Id.optional(),
    says: z.enum(['fits', 'doesNotFit']),
    vehicle: Name.optional(),
    loom: Code.optional(),
    note: Note.optional(),
    photo: z
      .url({ protocol: /^https$/ })
      .max(500)
      .optional(),
  }),
  rate: entry('rate', Rate),
  lane: entry('lane', Lane),
  stock: entry('stock', StockItem).extend({ owner }),
  loom: z
    .strictObject({
      type: z.literal('loom'),
      code: Code,
      latestRevision: Number32,
      createdAt: Moment,
      updatedAt: Moment,
      ...authors,
      ...owned,
    })
    .superRefine(refuseOwnerless),
  revision: z.strictObject({
    type: z.literal('revision'),
    loom: Code,
    revision: Number32,
    createdAt: Moment,
    createdBy: Words,
    body: LoomRevision,
  }),
  quote: z
    .strictObject({
      type: z.literal('quote'),
      id: Id,
      asOf: Day,
      createdAt: Moment,
      createdBy: Words,
      ...owned,
      restOf: Id.optional(),
      keepUntil: Day.optional(),
      request: PinnedRequest,
      task: Task,
      jobHash: z
        .string()
        .regex(/^[0-9a-f]{64}$/, 'SHA-256 in hex')
        .optional(),
      job: StoredDocument.optional(),
      result: StoredDocument.optional(),
    })
    .superRefine(refuseOwnerless)
    .superRefine(({ job, jobHash, result, task }, issues) => {
      const there = [job, jobHash, result].filter((text) => text !== undefined).length;
      if (there === 3 || (there === 0 && task.state !== 'done')) return;
      const message = 'job, jobHash and result come together, and a quote that is done has them';
      issues.addIssue({ code: 'custom', path: ['result'], message, params: { code: 'half-a-quote' } });
    }),
  winningPrice: z.strictObject({
    type: z.literal('winningPrice'),
    quote: Id,
    offer: Code,
    createdAt: Moment,
    createdBy: Words,
    task: Task,
    answer: StoredDocument.optional(),
  }),
  order: OrderEntry,
  receipt: ReceiptEntry,
  orderEntry: OrderEntryEntry,
  movement: MovementEntry,
  reservation: ReservationEntry,
  audit: z.strictObject({
    type: z.literal('audit'),
    id: Id,
    at: Moment,
    actor: Words,
    requestId: Words,
    action: Words.refine((action) => !ACTIONS_LEFT_OUT.includes(action), 'no archive has a row of this kind'),
    subject: Words,
    thing: Words.optional(),
    before: z.unknown().optional(),
    after: z.unknown().optional(),
    memberId: Id.optional(),
    privateTo: Id.optional(),
  }),
} as const;

export type EntryType = keyof typeof ENTRY_SCHEMAS;
export type EntryOf<T extends EntryType> = z.infer<(typeof ENTRY_SCHEMAS)[T]>;
export type Entry = { [T in EntryType]: EntryOf<T> }[EntryType];

/** In the order in which they stand in an archive: each names only what stands before it. */
export const ENTRY_TYPES = Object.keys(ENTRY_SCHEMAS) as EntryType[];

/** An entry as the line that stands for it: its type first, then its fields in byte order. */
export function lineOf<T extends EntryType>({ type, ...fields }: EntryOf<T>): string {
  return `{"type":"${type}",${canonicalJson(fields).slice(1)}`;
}

const WORDS: Partial<Record<EntryType, string>> = {
  stock: 'stock item',
  offerPrice: 'price',
  fitReport: 'report of a fit',
  receipt: 'delivery',
  orderEntry: 'entry',
  audit: 'row of the history',
};

/** What an entry is called where it is told of. */
export function nameOf(entry: Entry): string {
  const word = WORDS[entry.type] ?? entry.type;
  switch (entry.type) {
    case 'club':
      return 'the club’s terms';
    case 'synonyms':
      return 'the club’s synonyms';
    case 'fit':
      return `${word} ${entry.body.from}/${entry.body.relation}/${entry.body.to}`;
    case 'loom':
      return `${word} ${entry.code}`;
    case 'revision':
      return `${word} ${entry.revision} of the loom ${entry.loom}`;
    case 'winningPrice':
      return `winning price of ${entry.offer} for the quote ${entry.quote}`;
    case 'offerPrice':
      return `${word} ${entry.number} of the offer ${entry.offer}`;
    case 'member':
      return `${word} ${entry.name} (${entry.id})`;
    case 'order':
      return `${word} ${entry.number} (${entry.id})`;
    case 'receipt':
      return `${word} ${entry.body.number ?? entry.id} of the order ${entry.order}`;
    case 'orderEntry':
      return `${word} ${entry.id} of the order ${entry.order}`;
    case 'reservation':
      return `${word} of the stock item ${entry.stock} for the quote ${entry.quote}`;
    case 'movement':
      return `${word} ${entry.number} of the stock item ${entry.stock}`;
    case 'quote':
    case 'fitReport':
    case 'audit':
      return `${word} ${entry.id}`;
    case 'part':
    case 'supplier':
    case 'offer':
    case 'rate':
    case 'lane':
    case 'stock':
      return `${word} ${entry.body.code}`;
  }
}
