import type { Ctx } from '../../db/club.ts';
import { namesAsked } from '../../db/pin.ts';
import { unknownNames, type Names } from '../../db/references.ts';
import { Code } from '../../worker/engine/model/code.ts';
import type { Finding } from '../../worker/engine/model/finding.ts';
import type { QuoteRequest } from '../../worker/engine/model/job.ts';
import { partsNamed } from '../../worker/engine/model/loomReferences.ts';
import { offerParts, type Offer } from '../../worker/engine/model/offer.ts';
import { isFields, soundLoom, soundBuildOrBuy, soundOffer } from '../../worker/engine/model/soundness.ts';

/** The names in a body that has other faults, as far as they can be read, so that all faults are told at once. */
export type NamesIn = (body: unknown) => Names[];

/** What else is wrong in a body beside what is stored, whatever its shape. */
export type WrongIn = (ctx: Ctx, body: unknown) => Promise<Finding[]>;

const readable = ({ code }: { code: unknown }) => Code.safeParse(code).success;

export const namesInOffer: NamesIn = (body) => {
  if (!isFields(body)) return [];
  const named = offerParts(soundOffer(body) as Offer).map(({ part, path }) => ({ code: part, path }));
  const supplier = { code: body['supplier'] as string, path: ['supplier'] };
  return [
    { word: 'supplier', named: [supplier].filter(readable) },
    { word: 'part', named: named.filter(readable) },
  ];
};

export const namesInFit: NamesIn = (body) => {
  if (!isFields(body)) return [];
  const named = ['from', 'to'].map((side) => ({ code: body[side] as string, path: [side] }));
  return [{ word: 'part', named: named.filter(readable) }];
};

export const namesInStock: NamesIn = (body) => {
  if (!isFields(body)) return [];
  const named = [{ code: body['part'] as string, path: ['part'] }];
  return [{ word: 'part', named: named.filter(readable) }];
};

export const namesInRequest: NamesIn = (body) => {
  if (!isFields(body)) return [];
  const list = (field: string) => (Array.isArray(body[field]) ? (body[field] as unknown[]) : []);
  const things = (field: string) => list(field).map((item) => (isFields(item) ? item : {}));
  const request = {
    looms: things('looms'),
    shutOut: list('shutOut'),
    insistOn: list('insistOn'),
    pinned: things('pinned'),
    buildOrBuy: soundBuildOrBuy(body['buildOrBuy']),
  };
  return namesAsked(request as unknown as QuoteRequest).map(({ word, named }) => ({
    word,
    named: named.filter(readable),
  }));
};

export const namesInLoom: NamesIn = (body) => {
  const sound = soundLoom(body);
  if (!sound) return [];
  const named = partsNamed(sound.value).map(({ part, path }) => ({ code: part, path }));
  return [{ word: 'part', named: named.filter(readable) }];
};

/** What of these the club does not have. */
export async function unknownIn(ctx: Ctx, asked: readonly Names[]): Promise<Finding[]> {
  const findings: Finding[] = [];
  for (const { word, named } of asked) findings.push(...(await unknownNames(ctx, word, named)));
  return findings;
}
