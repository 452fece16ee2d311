import type { OrderLine, OrderList, Result } from '../../worker/engine/model/result.ts';
import {
  byTheMetre,
  gbp,
  jobOf,
  pack,
  points,
  priced,
  supplier,
  terminal,
  wire,
  wirePart,
} from '../engine/fixtures.ts';

export { gbp };

/** A quote with something in every section. */
export function fullResult(): Promise<Result> {
  const { length: _none, ...unmeasured } = wire('W9');
  return priced(
    jobOf({
      quantity: 2,
      parts: [wirePart('red'), terminal('ring'), terminal('gone')],
      suppliers: [supplier('near', ['0', '3']), supplier('far', ['0', '3'])],
      offers: [
        byTheMetre('near-red', 'near', 'red', '0.455', {
          supplierCode: 'R1',
          stepMm: 500,
          seenOn: '2026-02-01',
        }),
        byTheMetre('far-red', 'far', 'red', '0.35'),
        pack('near-ring', 'near', 'ring', 10, '1.25', { condition: 'oldStock', seenOn: '2026-02-20' }),
      ],
      loom: {
        look: 'period',
        points: points('A', 'B'),
        wires: [
          wire('W1', { amps: 5, to: { point: 'B', join: 'crimp', terminal: { part: 'ring' } } }),
          wire('W2', {
            supply: 'reuse',
            to: { point: 'B', join: 'crimp', terminal: { part: 'gone' } },
          }),
          unmeasured,
        ],
      },
    }),
  );
}

export const metreLine = (line: number, given: Partial<OrderLine> = {}): OrderLine => ({
  line,
  requirement: 'wire:x',
  offer: 'internal-offer',
  supplierCode: 'TW-R',
  description: 'Thin-wall wire',
  colour: 'red',
  bought: { form: 'metre', lengthMm: 12_500, pricePerMetre: gbp('0.385') },
  oneContinuousLength: true,
  condition: 'new',
  cost: gbp('4.81'),
  ...given,
});

export const packLine = (line: number, given: Partial<OrderLine> = {}): OrderLine => ({
  line,
  requirement: 'part:x',
  offer: 'internal-offer',
  description: 'Ring terminal',
  bought: { form: 'pack', packs: 3, packCount: 10, pieces: 30, packPrice: gbp('1.20') },
  oneContinuousLength: false,
  condition: 'new',
  cost: gbp('3.60'),
  ...given,
});

export const orderList = (lines: OrderLine[], given: Partial<OrderList> = {}): OrderList => ({
  supplier: 'internal-supplier',
  name: 'Ash Wire & Terminal',
  lines,
  goods: gbp('8.41'),
  postage: gbp('2.50'),
  handling: gbp('0.00'),
  rounding: gbp('-0.01'),
  total: gbp('10.90'),
  ...given,
});

/** Red wire in hanks of one length, and the ring of its ends. */
export const hanksOfRed = (nominalMm: number) => ({
  parts: [wirePart('red'), terminal('ring')],
  suppliers: [supplier('shop')],
  offers: [
    {
      form: 'length' as const,
      code: 'hank',
      supplier: 'shop',
      part: 'red',
      nominalMm,
      endLossMm: 10,
      packPrice: gbp('1.00'),
    },
  ],
});

/** A wire, and one whose work fixes its length. */
export function withLink(): Promise<Result> {
  return priced(
    jobOf({
      parts: [wirePart('red')],
      suppliers: [supplier('shop')],
      offers: [byTheMetre('r', 'shop', 'red', '1.00')],
      loom: {
        points: points('A', 'B'),
        wires: [wire('W1'), wire('LINK', { function: { fixedMm: 153 }, length: undefined })],
      },
    }),
  );
}
