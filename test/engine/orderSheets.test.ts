import { expect, test } from 'vitest';
import type { JobInput } from '../../worker/engine/model/job.ts';
import {
  byTheMetre,
  consumable,
  crimped,
  jobOf,
  pack,
  points,
  priced,
  supplier,
  terminal,
  wire,
  wirePart,
} from './fixtures.ts';

type Job = Partial<JobInput>;

const asked = async (given: Job & { loom?: object } = {}) => {
  const result = await priced(
    jobOf({
      parts: [consumable('tie')],
      suppliers: [supplier('shop')],
      offers: [pack('o', 'shop', 'tie', 1, '1.00')],
      ...given,
      loom: { parts: [{ part: 'tie', quantity: 1 }], ...given.loom },
    }),
  );
  const [list] = result.orderLists;
  if (!list) throw new Error('nothing is bought');
  return { list, result };
};
const club = (buyer?: object) => ({ currency: 'GBP', settings: {}, ...(buyer ? { buyer } : {}) });
const looms = [{ loom: 'l', quantity: 1 }];

test('the request’s buyer goes before the club’s, field by field; reference and vehicle stand beside it', async () => {
  const { list } = await asked({
    club: club({ name: 'Club', phone: '1' }),
    request: { looms, buyer: { phone: '2', email: 'a@b.example' }, reference: 'R 7' },
    loom: { vehicle: 'Tansy, 1958' },
  });
  expect(list).toMatchObject({
    buyer: { name: 'Club', phone: '2', email: 'a@b.example' },
    reference: 'R 7',
    vehicles: ['Tansy, 1958'],
  });
});

test('what nobody entered is left out', async () => {
  const { list } = await asked();
  for (const field of ['buyer', 'reference', 'vehicles', 'contact']) expect(list).not.toHaveProperty(field);
  for (const field of ['instead', 'holds']) expect(list.lines[0]).not.toHaveProperty(field);
});

test('the supplier’s e-mail, phone and page stand on its list', async () => {
  const contact = { email: 'o@shop.example', phone: '3', website: 'https://shop.example' };
  const { list } = await asked({ suppliers: [{ ...supplier('shop'), ...contact }] });
  expect(list.contact).toEqual(contact);
});

test('who orders changes nothing of what is bought', async () => {
  const plain = await asked();
  const named = await asked({ club: club({ name: 'Club' }), request: { looms, reference: 'R' } });
  expect(named.result.purchases).toEqual(plain.result.purchases);
  expect(named.result.proof).toEqual(plain.result.proof);
});

const ends = { points: points('A', 'B'), wires: [wire('W1', { to: crimped('B', 'ring') })], parts: [] };
const withRings = (standIn: object, offers: JobInput['offers']) =>
  asked({
    parts: [wirePart('red'), terminal('ring'), { ...terminal('lug'), ...standIn }],
    suppliers: [supplier('shop'), supplier('other')],
    offers: [byTheMetre('w', 'shop', 'red', '1.00'), pack('r', 'shop', 'ring', 1, '0.10'), ...offers],
    loom: ends,
  });
const confirmed = { standsInFor: [{ part: 'ring', confirmedBy: 'the club' }] };
const lug = (of: string, more: object = {}) =>
  pack('g', of, 'lug', 1, '0.90', { supplierCode: 'LUG', ...more });

test('what is confirmed to stand in, and the same supplier sells, may be sent instead', async () => {
  const { list } = await withRings(confirmed, [lug('shop')]);
  expect(list.lines.map(({ offer, instead }) => [offer, instead])).toEqual([
    ['w', undefined],
    ['r', [{ supplierCode: 'LUG', description: 'Terminal lug' }]],
  ]);
});

test.each<[string, object, JobInput['offers']]>([
  ['only proposed', { standsInFor: [{ part: 'ring' }] }, [lug('shop')]],
  ['sold by another supplier', confirmed, [lug('other')]],
  ['used', confirmed, [lug('shop', { condition: 'used' })]],
  // The wire has 1 mm².
  ['too large for the wire', { ...confirmed, wireMinMm2: 4, wireMaxMm2: 6 }, [lug('shop')]],
  ['of another family', { ...confirmed, family: 'far' }, [lug('shop')]],
])('a part that is %s may not', async (_what, standIn, offers) => {
  const { list } = await withRings(standIn, offers);
  expect(list.lines.map(({ instead }) => instead)).toEqual([undefined, undefined]);
});

test('a kit with a name of its own says what it holds', async () => {
  const { list } = await asked({
    parts: [consumable('tie'), consumable('clip')],
    offers: [
      {
        form: 'kit',
        code: 'box',
        supplier: 'shop',
        description: 'Box of bits',
        contents: [
          { part: 'tie', quantity: 5 },
          { part: 'clip', quantity: 2 },
        ],
        packPrice: { amount: '1.00', currency: 'GBP' },
      },
    ],
  });
  expect(list.lines[0]).toMatchObject({ description: 'Box of bits', holds: '2 × Part clip, 5 × Part tie' });
});

test('each wire piece has its two ends: point, way, terminal, shared or finished in the vehicle', async () => {
  const { result } = await asked({
    parts: [wirePart('red'), terminal('ring')],
    offers: [byTheMetre('w', 'shop', 'red', '1.00')],
    loom: {
      parts: [],
      points: [{ id: 'A', kind: 'connector', label: 'Plug' }, ...points('B')],
      wires: [
        wire('W1', {
          from: crimped('A', 'ring', { way: '3', sharesTerminal: 's' }),
          to: { point: 'B', join: 'bare', terminateInVehicle: true },
        }),
        wire('W2', { from: { point: 'A', join: 'crimp', sharesTerminal: 's' } }),
      ],
    },
  });
  const [need] = result.requirements;
  const shared = { point: 'A', label: 'Plug', join: 'crimp', terminal: 'ring', shared: true };
  expect(need?.kind === 'wire' ? need.pieces.map(({ wire: id, ends: both }) => [id, both]) : []).toEqual([
    [
      'W1',
      [
        { ...shared, way: '3' },
        { point: 'B', join: 'bare', inVehicle: true },
      ],
    ],
    ['W2', [shared, { point: 'B', join: 'bare' }]],
  ]);
});
