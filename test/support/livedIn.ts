import { expect } from 'vitest';
import type { Got } from './client.ts';
import { gbp, oneWireLoom, ring, redWire, ringOffer, shop } from './fixtures.ts';
import type { TestClub, TestMember } from './house.ts';

/** The one-wire loom with parts of a club that is lived in. */
function livedLoom(code: string) {
  const text = JSON.stringify(oneWireLoom(code)).replaceAll('ring-6', 'lived-ring');
  return JSON.parse(text) as ReturnType<typeof oneWireLoom>;
}

/** What `liveIn` adds to a club, by the types of an archive. */
export const LIVED = {
  member: 3,
  part: 4,
  supplier: 1,
  offerPrice: 3,
  offer: 1,
  fit: 1,
  fitReport: 2,
  stock: 1,
  loom: 3,
  revision: 3,
  quote: 3,
} as const;

/**
 * Lets an admin and two more members, Bo and Dot, live in a club for a while: offers with past prices, one of them gone; a
 * part that was merged, one that is proposed; what two found of a fit; stock of Bo’s; synonyms; a loom and a quote that each alone sees. Bo
 * has left.
 */
export async function liveIn(club: TestClub, ada: TestMember): Promise<{ bo: TestMember; dot: TestMember }> {
  const bo = await club.joined('member', 'Bo');
  const dot = await club.joined('editor', 'Dot');
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
  const drawer = { code: 'lived-drawer', form: 'pieces', part: 'lived-ring-again', count: 7, place: 'shed' };
  done(await bo.client.post('/v1/stock', drawer));
  done(await bo.client.post(reports, { says: 'doesNotFit', vehicle: 'Marram Ostler 1960' }));
  const merged = '/v1/parts/lived-ring-again';
  done(await admin.post(`${merged}/merge`, { into: 'lived-ring' }, await tagOf(merged)));
  done(await bo.client.post('/v1/parts', { ...ring, code: 'lived-proposal' }));

  done(await dot.client.put('/v1/synonyms', { groups: [['Lug', 'ring']] }, any));

  for (const [client, code] of [
    [admin, 'lead-of-ada'],
    [bo.client, 'lead-of-bo'],
    [dot.client, 'lead-of-dot'],
  ] as const) {
    done(await client.post('/v1/looms?seenBy=owner', livedLoom(code)));
    done(await client.post('/v1/quotes', { looms: [{ loom: code, quantity: 1 }] }));
  }
  done(await bo.client.post(`/v1/members/${bo.id}/leave`, undefined));
  return { bo, dot };
}
