import type { z } from 'zod';
import { clubShortsOf, type ClubSays } from '../../../db/shortContext.ts';
import type { Names } from '../../../db/references.ts';
import { faultsOf } from '../../../worker/engine/model/faults.ts';
import type { Finding } from '../../../worker/engine/model/finding.ts';
import { parsed, readLong } from '../../../worker/engine/model/parsed.ts';
import type { Part } from '../../../worker/engine/model/part.ts';
import { expanded } from '../../../worker/engine/model/short/expand.ts';
import type { NamesIn } from '../names.ts';

/** What an endpoint says of its body. */
export interface BodyShape {
  body?: z.ZodType;
  names?: NamesIn;
}

/** A body in long form, and the parts that came into being from it; or why it cannot be used, and what it names. */
export type ReadBody =
  | { is: 'sound'; body: unknown; made: readonly Part[] }
  /** `long`: the document as far as it was read. */
  | { is: 'faulty'; findings: Finding[]; named: Names[]; long: unknown };

/** Of a faulty body so many names are looked up: the rest is told when the first faults are fixed. */
const MOST_NAMES = 20_000;

/** A body that can be read without a look at its club; undefined where it cannot, for whatever reason. */
export function readAlone({ body: schema }: BodyShape, sent: unknown): ReadBody | undefined {
  if (!schema) return { is: 'sound', body: undefined, made: [] };
  const read = parsed(schema, sent, {}, { wary: true });
  return read.success ? { is: 'sound', body: read.data, made: [] } : undefined;
}

/** A body read with what its club settles of short forms, or all its faults. */
export function readWithClub({ body: schema, names }: BodyShape, sent: unknown, says: ClubSays): ReadBody {
  if (!schema) return { is: 'sound', body: undefined, made: [] };
  const shorts = clubShortsOf(says);
  const long = expanded(schema, sent, shorts.context);
  const read = readLong(schema, long, true);
  if (read.success) return { is: 'sound', body: read.data, made: shorts.made() };
  return {
    is: 'faulty',
    findings: faultsOf(read.error, sent, schema),
    named: firstNames(names?.(long.document) ?? []),
    long: long.document,
  };
}

function firstNames(all: readonly Names[]): Names[] {
  let room = MOST_NAMES;
  return all.map(({ word, named }) => {
    const first = named.slice(0, room);
    room -= first.length;
    return { word, named: first };
  });
}
