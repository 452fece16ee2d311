import { describe, expect, it } from 'vitest';
import { answer, gbp, shop } from './handWorked.ts';
import { partOf, type LoomWants, type OfferInput, type SupplierInput } from './jobOf.ts';

function outcome(wanted: LoomWants, offers: OfferInput[], terms: Partial<SupplierInput> = {}, settings = {}) {
  return answer(
    { looms: { loom: wanted }, lines: [{ loom: 'loom', quantity: 1 }] },
    {
      parts: [
        partOf('clip', 'clip', { weightG: 2.5 }),
        partOf('clip', 'plug', { weightG: 10 }),
        partOf('clip', 'lamp', { weightG: 20 }),
        partOf('red', 'red', { weightG: 12.5 }),
        partOf('tape', 'tape'),
      ],
      suppliers: [shop('north', terms), shop('south')],
      offers,
      request: { settings },
    },
  );
}
/** As amounts are written without zeros at their end. */
const sourced = (amount: string) => `0 unmet, ${amount.replace(/\.?0+$/, '')}`;
const UNMET = '1 unmet, 0';

const roll = (nominalMm: number, amount: string): OfferInput => ({
  form: 'length',
  code: `roll-${nominalMm}`,
  supplier: 'north',
  part: 'tape',
  nominalMm,
  packPrice: gbp(amount),
});
const hank = (more: Partial<Extract<OfferInput, { form: 'length' }>> = {}): OfferInput => ({
  form: 'length',
  code: 'hank',
  supplier: 'north',
  part: 'red',
  nominalMm: 5000,
  packPrice: gbp('4.00'),
  ...more,
});
const byMetre = (more: Partial<Extract<OfferInput, { form: 'metre' }>> = {}): OfferInput => ({
  form: 'metre',
  code: 'by-metre',
  supplier: 'north',
  part: 'red',
  pricePerMetre: gbp('1.00'),
  ...more,
});
const clips = (more: Partial<Extract<OfferInput, { form: 'pack' }>> = {}): OfferInput => ({
  form: 'pack',
  code: 'clips',
  supplier: 'north',
  part: 'clip',
  packCount: 1,
  packPrice: gbp('0.30'),
  ...more,
});
const red = (...pieces: number[]) => ({ wires: pieces.map((mm) => ({ colour: 'red' as const, mm })) });
const need = (quantity: number) => ({ counted: [{ part: 'clip', quantity }] });

describe('the brute force: offers of every form', () => {
  it.each([
    // Solved by enumeration, published nowhere.
    [12, '11.70'],
    [23, '16.00'],
    [37, '27.70'],
    [41, '29.00'],
    [60, '36.50'],
    [76, '49.20'],
    [101, '62.20'],
  ])('mixes rolls of 5, 10, 25 and 50 m: %i m of tape cost %s', (metres, cost) => {
    const rolls = [roll(5000, '4.20'), roll(10_000, '7.50'), roll(25_000, '16.00'), roll(50_000, '29.00')];
    const half = (metres * 1000) / 2;
    const coverings = [half, half].map((mm) => ({ kind: 'tape' as const, part: 'tape', mm }));
    expect(outcome({ coverings }, rolls)).toEqual(sourced(cost));
  });

  it.each([
    // All-units discounts after Nahmias, Production and Operations Analysis; the figures are from memory.
    [400, '120.00'],
    [483, '144.90'],
    [484, '145.00'],
    [499, '145.00'],
    [500, '145.00'],
    [966, '280.00'],
    [1000, '280.00'],
  ])('buys up to a break where all units at its price cost less: %i pieces cost %s', (pieces, cost) => {
    const breaks = [
      { fromPacks: 500, packPrice: gbp('0.29') },
      { fromPacks: 1000, packPrice: gbp('0.28') },
    ];
    // A minimum close by, and the prices from there up to the next break alone, keep the brute force from trying every count from 1 on.
    const offer =
      pieces <= 500
        ? clips({ breaks: breaks.slice(0, 1), minimumPacks: 400 })
        : clips({ packPrice: gbp('0.29'), breaks: breaks.slice(1), minimumPacks: 900 });
    expect(outcome(need(pieces), [offer])).toEqual(sourced(cost));
  });

  it('cuts pieces whole: two of 3 m take two lengths of 5 m, and none at all where there is one', () => {
    expect(outcome(red(3000, 3000), [hank()])).toEqual(sourced('8.00'));
    expect(outcome(red(3000, 3000), [hank({ stockPacks: 1 })])).toEqual(UNMET);
  });

  it('takes tolerance and end loss off: 2 % and 100 mm leave 4.8 m of 5 m', () => {
    const short = hank({ tolerancePercent: 2, endLossMm: 100 });
    expect(outcome(red(2400, 2400), [short])).toEqual(sourced('4.00'));
    expect(outcome(red(2400, 2401), [short])).toEqual(sourced('8.00'));
  });

  it('cuts the piece that does not fit from one length by the metre', () => {
    expect(outcome(red(3000, 1500, 1200), [hank(), byMetre()])).toEqual(sourced('6.00'));
  });

  it('takes all wire of a colour from one supplier, unless the setting is off', () => {
    const offers = [
      hank({ stockPacks: 1 }),
      byMetre({ supplier: 'south', minimumMm: 1000 }),
      byMetre({ code: 'dear', pricePerMetre: gbp('3') }),
    ];
    expect(outcome(red(5000, 2000), offers)).toEqual(sourced('7.00'));
    expect(outcome(red(5000, 2000), offers, {}, { oneColourOneSupplier: false })).toEqual(sourced('6.00'));
  });

  it('counts what a kit brings to each need: two kits and a clip serve 5 clips and 2 plugs, and lamps that nobody needs', () => {
    const kit: OfferInput = {
      form: 'kit',
      code: 'kit',
      supplier: 'north',
      contents: [
        { part: 'clip', quantity: 2 },
        { part: 'plug', quantity: 1 },
        { part: 'lamp', quantity: 1 },
      ],
      packPrice: gbp('1.00'),
    };
    const wanted = {
      counted: [
        { part: 'clip', quantity: 5 },
        { part: 'plug', quantity: 2 },
      ],
    };
    expect(outcome(wanted, [kit, clips()])).toEqual(sourced('2.30'));
  });

  it('buys up to a minimum order, and leaves unsourced what stock keeps below it', () => {
    const terms = { minimumOrder: gbp('2.00'), handling: gbp('0.50') };
    expect(outcome(need(4), [clips()], terms)).toEqual(sourced('2.60'));
    expect(outcome(need(4), [clips({ stockPacks: 6 })], terms)).toEqual(UNMET);
  });

  it('buys no length into which no piece fits to reach a minimum order', () => {
    const terms = { minimumOrder: gbp('4.50') };
    const short = hank({ code: 'short', nominalMm: 1000, packPrice: gbp('0.60') });
    expect(outcome(red(3000), [hank(), short], terms)).toEqual(sourced('8.00'));
    expect(outcome(red(3000, 1000), [hank(), short], terms)).toEqual(sourced('4.60'));
  });

  it('sends by the weight of all that is bought, and free from a value on', () => {
    const postage = {
      by: 'weight' as const,
      bands: [
        { fromG: 0, charge: gbp('1.00') },
        { fromG: 10, charge: gbp('2.00') },
      ],
      freeFromValue: gbp('2.10'),
    };
    expect(outcome(need(3), [clips()], { postage })).toEqual(sourced('1.90'));
    // 4 clips are 10 g: 1.20 + 2.00, but 7 for 2.10 go free.
    expect(outcome(need(4), [clips()], { postage })).toEqual(sourced('2.10'));
  });

  it('buys nothing in a condition that is not accepted', () => {
    const used = clips({ condition: 'used' });
    expect(outcome(need(1), [used])).toEqual(UNMET);
    expect(outcome(need(1), [used], {}, { conditionsAccepted: ['used'] })).toEqual(sourced('0.30'));
  });

  it('obeys steps, minimum and stock of packs: 4 or 6, never 3 or 8', () => {
    const offer = clips({ minimumPacks: 3, stepPacks: 2, stockPacks: 7 });
    expect(outcome(need(1), [offer])).toEqual(sourced('1.20'));
    expect(outcome(need(5), [offer])).toEqual(sourced('1.80'));
    expect(outcome(need(7), [offer])).toEqual(UNMET);
  });
});
