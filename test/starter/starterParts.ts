import { readFileSync } from 'node:fs';
import { z } from 'zod';
import { Fit } from '../../worker/engine/model/fit.ts';
import { Part, type WirePart } from '../../worker/engine/model/part.ts';

const read = (file: string): unknown =>
  JSON.parse(readFileSync(new URL(`../../examples/starter/${file}`, import.meta.url), 'utf8'));

/** The starter catalogue as it is written, and as it is read. */
export const written = read('parts.json');
export const { parts } = z.strictObject({ parts: z.array(Part) }).parse(written);
export const { fits } = z.strictObject({ fits: z.array(Fit) }).parse(read('fits.json'));

export const wires = parts.filter((part): part is WirePart => part.kind === 'wire');
export const ofKind = <K extends Part['kind']>(kind: K) =>
  parts.filter((part): part is Extract<Part, { kind: K }> => part.kind === kind);

const byCode = new Map(parts.map((part) => [part.code, part]));

/** Throws Error where the catalogue has no such part. */
export function partOf(code: string): Part {
  const part = byCode.get(code);
  if (!part) throw new Error(`the starter catalogue has no part ${code}`);
  return part;
}
