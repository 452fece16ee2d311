import type { z } from 'zod';
import { Job, JOB_VERSION } from './job.ts';
import { parsed } from './parsed.ts';
import { Result, RESULT_VERSION } from './result.ts';

type Document = Record<string, unknown>;
/** Turns a document of version n into one of version n + 1; the list's index is n − 1. */
type Upgrade = (document: Document) => Document;

const JOB_UPGRADES: Upgrade[] = [];
/** Version 2 tells options, branches, circuits and spare wire; a result of version 1 was made without. */
function withBranches(result: Document): Document {
  const { looms, requirements } = result;
  return {
    ...result,
    version: 2,
    circuits: [],
    requirements: Array.isArray(requirements)
      ? (requirements as Document[]).map((need) => (need['kind'] === 'wire' ? { ...need, spares: [] } : need))
      : requirements,
    looms: Array.isArray(looms)
      ? (looms as Document[]).map((loom) => ({ ...loom, options: [], branches: [] }))
      : looms,
  };
}

/** Version 3 tells families, rates and what comes off the shelf; a result of version 2 was made without. */
function withTerms(result: Document): Document {
  return { ...result, version: 3, families: [], rates: [], fromStock: [] };
}

/** Version 4 tells what lies beside the cheapest mix; in a result of version 3 that was not looked at. */
function withBeside(result: Document): Document {
  return { ...result, version: 4 };
}

/** Version 5 tells more of what was checked and chosen; in a result of version 4 that was not looked at. */
function withMoreSaid(result: Document): Document {
  return { ...result, version: 5 };
}

const RESULT_UPGRADES: Upgrade[] = [withBranches, withTerms, withBeside, withMoreSaid];

function upgraded(document: unknown, upgrades: Upgrade[], current: number): unknown {
  if (typeof document !== 'object' || document === null) return document;
  let now = document as Document;
  const version = now['version'];
  if (typeof version !== 'number' || !Number.isInteger(version) || version < 1 || version > current)
    return document;
  for (const upgrade of upgrades.slice(version - 1)) now = upgrade(now);
  return now;
}

/** Reads a job of this version or an older one. */
export function readJob(document: unknown): z.ZodSafeParseResult<Job> {
  return parsed(Job, upgraded(document, JOB_UPGRADES, JOB_VERSION));
}

/** Reads a stored result of this version or an older one. Throws where it is neither. */
export function readResult(document: unknown): Result {
  return Result.parse(upgraded(document, RESULT_UPGRADES, RESULT_VERSION));
}
