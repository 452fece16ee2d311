import { createHash } from 'node:crypto';
import type { Changeable, Version } from '../../db/version.ts';
import { HttpProblem } from './problem.ts';

/** Every text of a resource has a strong tag of its own: the packed one ends in this (RFC 9110 §8.8.3.3). */
const PACKED = '-gzip';

/** A tag in a list: whether it is weak, and what is between its quotes (RFC 9110 §8.8.3). */
const TAG = /(W\/)?"([\x21\x23-\x7e\x80-\xff]*)"/g;

export function etagOf({ number, born }: Version): string {
  return `"${number}-${born.toString(36)}"`;
}

/** The tag of a text: the same text, the same tag. */
export function etagOfText(text: string): string {
  return `"${createHash('sha256').update(text).digest('base64url')}"`;
}

/** The tag of the packed form of what has this tag. */
export function packedEtag(etag: string): string {
  return etag.replace(/"$/, `${PACKED}"`);
}

/**
 * The versions that If-Match names, or 'any' for `*`: whichever is there. Problems: 428 where it is missing, 412 where none of
 * its tags is one of ours (a weak tag never matches, RFC 9110 §13.1.1).
 */
export function changeableBy(header: string | undefined): Changeable {
  if (header === undefined)
    throw new HttpProblem(
      'if-match-needed',
      'Send If-Match with the ETag that you read. This protects the changes of other people.',
    );
  if (header.trim() === '*') return 'any';
  const versions = tagsOf(header).flatMap(({ weak, tag }) => (weak ? [] : versionsOf(tag)));
  if (versions.length === 0)
    throw new HttpProblem(
      'stale',
      `If-Match ${JSON.stringify(header.slice(0, 80))} is not an ETag of this resource. Read the resource again and send its ETag.`,
    );
  return versions;
}

/** The tag in If-None-Match by which the reader has this already, in whichever form; undefined where it has not. */
export function knownBy(header: string | undefined, etag: string): string | undefined {
  if (header === undefined) return undefined;
  if (header.trim() === '*') return etag;
  const own = [etag, packedEtag(etag)];
  return tagsOf(header)
    .map(({ tag }) => `"${tag}"`)
    .find((tag) => own.includes(tag));
}

function tagsOf(header: string): { weak: boolean; tag: string }[] {
  return [...header.matchAll(TAG)].map(([, weak, tag = '']) => ({ weak: weak !== undefined, tag }));
}

/** A version is the same whether it was sent packed or not. */
function versionsOf(tag: string): Version[] {
  const [, number, born] = /^(\d{1,9})-([0-9a-z]{1,9})(?:-gzip)?$/.exec(tag) ?? [];
  return number === undefined || born === undefined
    ? []
    : [{ number: Number(number), born: parseInt(born, 36) }];
}
