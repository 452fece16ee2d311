import { expect } from 'vitest';
import type { Got } from './client.ts';
import { gbp, oneWireLoom, ring, redWire, ringOffer, shop } from './fixtures.ts';
import type { TestClub, TestMember } from './house.ts';

/** The one-wire loom with parts of a club that is lived in. */
export function livedLoom(code: string) {
  const text = JSON.stringify(oneWireLoom(code)).replaceAll('ring-6', 'lived-ring');
  return JSON.parse(text) as ReturnType<typeof oneWireLoom>;
}

/** What `liveIn` adds to a club, by the types of an archive; what Bo alone sees is not counted. */
export const LIVED = {
  member: 2,
  part: 4,
  supplier: 1,
  offerPrice: 3,
  offer: 1,
  fit: 1,
  fitReport: 2,
  loom: 1,
  revision: 1,
  quote: 1,
} as const;

/**
 * Lets an admin and another member, Bo, live in a club for a while: offers with past prices, one of them gone; a part that
 * was merged, one that is proposed; what both found of a fit; a loom and a quote that each alone sees. Bo has left.
 */
export async function liveIn(club: TestClub, ada: TestMember): Promise<{ bo: TestMember; quote: string }> {
  const bo = await club.joined('member', 'Bo');
  const done = (got: Got) => {
    expect([got.status, got.text]).toEqual([expect.toSatisfy((status) => status < 300), got.text]);
    return got;
  };
  const { client: admin } = ada;
  const tagOf = async (path: string) => ({ 'if-match': (await admin.get(path)).headers.get('etag') ?? '' });
  const any = { 'if-match': '*' };

  const person = { name: 'Ada', role: 'admin', email: 'ada@club.example', note: 'Has the key to the shed.' };
  const path = `/v1/members/${ada.id}`;
  done(await admin.put(path, person, await tagOf(path)));
  done(await admin.post('/v1/invitations', { role: 'viewer', name: 'Cy' }));

  for (const part of [ring, { ...ring, code: 'ring-again' }, redWire])
    done(await admin.post('/v1/parts', { ...part, code: `lived-${part.code.replace('ring-6', 'ring')}` }));
  done(await admin.post('/v1/suppliers', { ...shop, code: 'lived-shop' }));
  const offer = { ...ringOffer, code: 'lived-pack', supplier: 'lived-shop', part: 'lived-ring-again' };
  done(await admin.post('/v1/offers', { ...offer, seenOn: '2026-05-01' }));
  const dearer = { ...offer, packPrice: gbp('2.50'), seenOn: '2026-06-01' };
  done(await admin.put('/v1/offers/lived-pack', dearer, any));
  done(await admin.post('/v1/offers', { ...offer, code: 'lived-gone' }));
  done(await admin.delete('/v1/offers/lived-gone', any));

  done(await admin.post('/v1/fits', { from: 'lived-ring-again', relation: 'takes', to: 'lived-wire-red' }));
  const reports = '/v1/fits/lived-ring-again/takes/lived-wire-red/reports';
  done(await admin.post(reports, { says: 'fits', note: 'Snug.' }));
  done(await bo.client.post(reports, { says: 'doesNotFit', vehicle: 'Marram Ostler 1960' }));
  const merged = '/v1/parts/lived-ring-again';
  done(await admin.post(`${merged}/merge`, { into: 'lived-ring' }, await tagOf(merged)));
  done(await bo.client.post('/v1/parts', { ...ring, code: 'lived-proposal' }));

  done(await admin.post('/v1/looms?seenBy=owner', livedLoom('lead-of-ada')));
  const asked = done(await admin.post('/v1/quotes', { looms: [{ loom: 'lead-of-ada', quantity: 1 }] }));
  done(await bo.client.post('/v1/looms?seenBy=owner', livedLoom('lead-of-bo')));
  done(await bo.client.post('/v1/quotes', { looms: [{ loom: 'lead-of-bo', quantity: 1 }] }));
  done(await bo.client.post(`/v1/members/${bo.id}/leave`, undefined));
  return { bo, quote: asked.json<{ id: string }>().id };
}
