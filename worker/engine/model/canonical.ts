import { createHash } from 'node:crypto';
import { byCode } from './code.ts';

/** JSON with keys in byte order and no white space: the same content gives the same bytes. Undefined fields are left out. */
export function canonicalJson(value: unknown): string {
  return JSON.stringify(value, (_key, inner: unknown) =>
    typeof inner === 'object' && inner !== null && !Array.isArray(inner)
      ? Object.fromEntries(Object.entries(inner).sort(([a], [b]) => byCode(a, b)))
      : inner,
  );
}

/** SHA-256 of the canonical JSON, in hex. */
export function hashOf(value: unknown): string {
  return createHash('sha256').update(canonicalJson(value)).digest('hex');
}

/** A document as it is stored and printed: canonical JSON and a line end. */
export function documentText(value: unknown): string {
  return `${canonicalJson(value)}\n`;
}
