import type { Version } from '../../db/version.ts';
import { HttpProblem } from './problem.ts';

export function etagOf({ number, born }: Version): string {
  return `"${number}-${born.toString(36)}"`;
}

/**
 * The version that If-Match names. Problems: 428 where it is missing, 412 where it is none of ours (a weak tag never
 * matches, RFC 9110 §13.1.1).
 */
export function versionOfIfMatch(header: string | undefined): Version {
  if (header === undefined || header.trim() === '*')
    throw new HttpProblem(
      'if-match-needed',
      'Send If-Match with the ETag that you read. This protects the changes of other people.',
    );
  const [, number, born] = /^"(\d{1,9})-([0-9a-z]{1,9})"$/.exec(header.trim()) ?? [];
  if (number === undefined || born === undefined)
    throw new HttpProblem(
      'stale',
      `If-Match ${JSON.stringify(header.slice(0, 80))} is not an ETag of this resource. Read the resource again and send its ETag.`,
    );
  return { number: Number(number), born: parseInt(born, 36) };
}

/** Whether If-None-Match names this tag: then the reader has it already. */
export function isKnown(header: string | undefined, etag: string): boolean {
  if (header === undefined) return false;
  return header.split(',').some((tag) => tag.trim() === '*' || tag.trim().replace(/^W\//, '') === etag);
}
