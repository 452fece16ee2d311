import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { Colour, Shade, WireColour } from '../../worker/engine/model/colour.ts';
import { faultsOf } from '../../worker/engine/model/faults.ts';
import { Money } from '../../worker/engine/model/money.ts';
import { Offer } from '../../worker/engine/model/offer.ts';
import { parsed } from '../../worker/engine/model/parsed.ts';
import { Size, sizeLabel } from '../../worker/engine/model/size.ts';
import { Supplier } from '../../worker/engine/model/supplier.ts';
import { breaksShort, contentsShort } from '../../worker/engine/model/short/breaksForm.ts';
import { colourShort } from '../../worker/engine/model/short/colourForm.ts';
import { gbp, pounds, read, refusal } from './shortReading.ts';
import { expanded } from '../../worker/engine/model/short/expand.ts';
import { moneyShort } from '../../worker/engine/model/short/moneyForm.ts';
import { postageShort } from '../../worker/engine/model/short/postageForm.ts';

describe('a size', () => {
  test.each([
    ['44/0.30', { system: 'metricStrands', strands: 44, strandMm: 0.3 }],
    ['14/.012', { system: 'imperialStrands', strands: 14, strandInch: 0.012 }],
    ['14/0.012', { system: 'imperialStrands', strands: 14, strandInch: 0.012 }],
    ['14/.3', { system: 'metricStrands', strands: 14, strandMm: 0.3 }],
    ['7/.064 in', { system: 'imperialStrands', strands: 7, strandInch: 0.064 }],
    ['7/0.07 mm', { system: 'metricStrands', strands: 7, strandMm: 0.07 }],
    ['28 x 0.3', { system: 'metricStrands', strands: 28, strandMm: 0.3 }],
    ['1.5 mm²', { system: 'mm2', areaMm2: 1.5 }],
    ['1.5mm2', { system: 'mm2', areaMm2: 1.5 }],
    ['2 sq mm', { system: 'mm2', areaMm2: 2 }],
    ['0.5', { system: 'mm2', areaMm2: 0.5 }],
    ['16 AWG', { system: 'awg', gauge: '16' }],
    ['AWG 2/0', { system: 'awg', gauge: '2/0' }],
    ['2/0 awg', { system: 'awg', gauge: '2/0' }],
    ['SAE 16', { system: 'sae', gauge: '16' }],
    ['14 strands of 0.3 mm, measured', { system: 'measuredStrands', strands: 14, strandMm: 0.3 }],
  ])('%s is read as its long form', (text, long) => {
    expect(read(Size, text)).toEqual(long);
  });

  test.each([
    ['16', ['16 mm²', '16 AWG', 'SAE 16']],
    ['16 gauge', ['16 AWG', 'SAE 16']],
    ['7/.064', ['7/0.064 mm', '7/.064 in']],
    ['14.012', ['14/.012', '14.012 mm²']],
  ])('%s is refused with all its readings', (text, readings) => {
    const { code, todo, limit, found } = refusal(Size, text);
    expect(code).toBe('two-readings');
    expect(limit).toBe(`one of: ${readings.join(' | ')}`);
    for (const reading of readings) expect(todo).toContain(`"${reading}"`);
    expect(found).toBe(JSON.stringify(text));
    // Each of the readings can be written.
    for (const reading of readings) expect(Size.safeParse(read(Size, reading)).success).toBe(true);
  });

  test.each([
    ['44-0.30', '44/0.30'],
    ['1.5mm', '1.5 mm²'],
    ['44/0.30 pvc', '44/0.30'],
  ])('%s is refused with what was likely meant', (text, meant) => {
    const { code, todo } = refusal(Size, text);
    expect([code, todo]).toEqual(['wrong-form', expect.stringContaining(`If "${meant}" is meant`)]);
  });

  test.each([
    ['14/012', '14/.012'],
    ['0,5', '0.5 mm²'],
  ])('%s is told as it is to be written', (text, right) => {
    expect(refusal(Size, text)).toMatchObject({ code: 'wrong-form', todo: `Write "${right}".` });
  });

  test('the comma is a decimal sign where that is said', () => {
    expect(read(Size, '44/0,30', { decimalComma: true })).toEqual(read(Size, '44/0.30'));
    expect(refusal(Size, '44/0,30').todo).toBe('Write "44/0.30".');
  });

  const sizes = fc.oneof(
    fc.record({
      system: fc.constant('mm2' as const),
      areaMm2: fc.integer({ min: 1, max: 50_000 }).map((n) => n / 100),
    }),
    fc.record({
      system: fc.constantFrom('awg' as const, 'sae' as const),
      gauge: fc.integer({ min: 1, max: 29 }).map(String),
    }),
    fc.record({
      system: fc.constant('metricStrands' as const),
      strands: fc.integer({ min: 1, max: 5000 }),
      strandMm: fc.integer({ min: 10, max: 500 }).map((n) => n / 100),
    }),
    fc.record({
      system: fc.constant('imperialStrands' as const),
      strands: fc.integer({ min: 1, max: 5000 }),
      strandInch: fc.integer({ min: 1, max: 49 }).map((n) => n / 1000),
    }),
    fc.record({
      system: fc.constant('measuredStrands' as const),
      strands: fc.integer({ min: 1, max: 5000 }),
      strandMm: fc.integer({ min: 1, max: 500 }).map((n) => n / 100),
    }),
  );
  test('as it is printed is read back as itself', () => {
    fc.assert(
      fc.property(sizes, (size) => {
        expect(read(Size, sizeLabel(size))).toEqual(size);
      }),
    );
  });
});

describe('a colour', () => {
  test.each([
    ['green/white', { base: 'green', tracer: 'white' }],
    ['Green with White tracer', { base: 'green', tracer: 'white' }],
    ['light green / light blue', { base: 'lightGreen', tracer: 'lightBlue' }],
    ['light green', { base: 'lightGreen' }],
    ['light green white', { base: 'lightGreen', tracer: 'white' }],
    ['slate', { base: 'grey' }],
  ])('%s is read in words', (text, long) => {
    expect(read(Colour, text)).toEqual(long);
    expect(read(WireColour, text)).toEqual(long);
  });

  test('letters are of the system that the loom says', () => {
    expect(read(WireColour, 'GW', { colourSystem: 'bsAu7' })).toEqual({ base: 'green', tracer: 'white' });
    expect(read(WireColour, 'swge', { colourSystem: 'german' })).toEqual({ base: 'black', tracer: 'yellow' });
    expect(read(WireColour, 'GNYE', { colourSystem: 'iec60757' })).toEqual({
      base: 'green',
      tracer: 'yellow',
    });
  });

  test('letters that leave open which colour is the base are refused with both readings', () => {
    const { code, limit } = refusal(WireColour, 'BKWH', { colourSystem: 'iec60757' });
    expect([code, limit]).toEqual(['two-readings', 'one of: black/white | white/black']);
  });

  test('letters in a loom that states no system are refused with what they would be in each', () => {
    // BS AU 7: B is black and R red; German practice has "br" for brown.
    const { code, limit, todo } = refusal(WireColour, 'BR');
    expect([code, limit]).toEqual(['two-readings', 'one of: black/red | brown']);
    expect(todo).toContain('colourSystem bsAu7');
  });

  test('a misspelt word is told with the word that was likely meant', () => {
    expect(refusal(Colour, 'gren/whit').todo).toContain('"green/white"');
    expect(refusal(Colour, 'mauve').code).toBe('wrong-form');
  });

  test('as it is written is read back as itself, for all pairs of shades', () => {
    for (const base of Shade.options)
      for (const tracer of [undefined, ...Shade.options]) {
        const colour = tracer === undefined ? { base } : { base, tracer };
        expect(read(Colour, colourShort(colour))).toEqual(colour);
      }
  });
});

describe('money', () => {
  test.each([
    ['0.42', 'GBP', gbp('0.42')],
    [0.42, 'GBP', gbp('0.42')],
    ['£3', undefined, gbp('3')],
    ['3.95 EUR', 'GBP', { amount: '3.95', currency: 'EUR' }],
    ['€3.95', 'GBP', { amount: '3.95', currency: 'EUR' }],
    ['$2', 'CAD', { amount: '2', currency: 'CAD' }],
  ])('%s with the currency %s is read', (text, currency, long) => {
    expect(read(Money, text, { currency })).toEqual(long);
  });

  test.each([
    ['1,234', 'one of: 1.234 | 1234'],
    ['$2', 'one of: 2 USD | 2 CAD | 2 AUD | 2 NZD'],
  ])('%s is refused with all its readings', (text, limit) => {
    const told = refusal(Money, text, pounds);
    expect([told.code, told.limit]).toEqual(['two-readings', limit]);
  });

  test('with a decimal comma it is told as it is to be written', () => {
    expect(refusal(Money, '0,45', pounds).todo).toBe('Write "0.45".');
  });

  test('where nothing says the currency it is asked for, with the amount as it was written', () => {
    expect(refusal(Money, '0.42').todo).toContain('"0.42 GBP"');
    expect(refusal(Money, '3 QQQ', pounds).todo).toContain('QQQ');
  });

  test('no amount is told with the figure in it', () => {
    expect(refusal(Money, '3.95 each please', pounds).todo).toContain('"3.95"');
  });
});

describe('postage', () => {
  const supplier = (postage: unknown, currency: string | undefined = 'GBP') => ({
    code: 's',
    name: 'S',
    ...(currency === undefined ? {} : { currency }),
    postage,
  });
  test.each([
    ['3.95', { by: 'value', bands: [{ fromValue: gbp('0'), charge: gbp('3.95') }] }],
    ['free', { by: 'value', bands: [{ fromValue: gbp('0'), charge: gbp('0') }] }],
    [
      '3.95, free from 40',
      {
        by: 'value',
        bands: [
          { fromValue: gbp('0'), charge: gbp('3.95') },
          { fromValue: gbp('40'), charge: gbp('0') },
        ],
      },
    ],
    [
      '3.10; 4.50 from 1 kg; free from 60',
      {
        by: 'weight',
        bands: [
          { fromG: 0, charge: gbp('3.10') },
          { fromG: 1000, charge: gbp('4.50') },
        ],
        freeFromValue: gbp('60'),
      },
    ],
  ])('%s is read as its bands', (text, long) => {
    expect(read(Supplier, supplier(text))).toMatchObject({ postage: long });
    // A supplier that states no currency sells in the club's.
    expect(read(Supplier, supplier(text, undefined), pounds)).toMatchObject({
      currency: 'GBP',
      postage: long,
    });
  });

  test('a text that is none is told with its own figures', () => {
    expect(refusal(Supplier, supplier('3.95 if under 40')).todo).toContain('"3.95, free from 40"');
    expect(refusal(Supplier, supplier('3.10, 4.50 from 1 kg, 6 from 20')).code).toBe('wrong-form');
  });

  test('bands out of order are told at the text that was sent', () => {
    const value = supplier('3.95, 5 from 40, free from 20');
    const answer = parsed(Supplier, value);
    expect(answer.error && faultsOf(answer.error, value, Supplier)).toEqual([
      expect.objectContaining({ at: '/postage', found: '"3.95, 5 from 40, free from 20"' }),
    ]);
  });

  const pence = fc.integer({ min: 1, max: 100_000 }).map((n) => gbp((n / 100).toFixed(2)));
  const bands = <T>(froms: fc.Arbitrary<T>) =>
    fc.array(fc.record({ from: froms, charge: pence }), { minLength: 1, maxLength: 5 });
  const byValue = bands(pence).map((list) => ({
    by: 'value' as const,
    bands: list.map(({ from, charge }, index) => ({ fromValue: index === 0 ? gbp('0') : from, charge })),
  }));
  const byWeight = fc
    .record({
      list: bands(fc.integer({ min: 1, max: 1e9 })),
      freeFromValue: fc.option(pence, { nil: undefined }),
    })
    .map(({ list, freeFromValue }) => ({
      by: 'weight' as const,
      bands: list.map(({ from, charge }, index) => ({ fromG: index === 0 ? 0 : from, charge })),
      ...(freeFromValue ? { freeFromValue } : {}),
    }));
  test('as it is written is read back as itself', () => {
    fc.assert(
      fc.property(fc.oneof(byValue, byWeight), fc.boolean(), (postage, decimalComma) => {
        const context = { ...pounds, decimalComma };
        expect(expanded(Supplier, supplier(postageShort(postage, context)), context)).toEqual({
          document: supplier(postage),
          faults: [],
          more: 0,
          tooLong: [],
        });
      }),
    );
  });
});

describe('an offer', () => {
  const pack = { form: 'pack', code: 'o', supplier: 's', part: 'p', packCount: 1, packPrice: '0.42' };
  test('takes breaks in packs or metres, prices as plain figures, and what is in a kit', () => {
    expect(read(Offer, { ...pack, breaks: '10: 0.38, 50: 0.33' }, pounds)).toMatchObject({
      packPrice: gbp('0.42'),
      breaks: [
        { fromPacks: 10, packPrice: gbp('0.38') },
        { fromPacks: 50, packPrice: gbp('0.33') },
      ],
    });
    const metre = {
      form: 'metre',
      code: 'o',
      supplier: 's',
      part: 'p',
      pricePerMetre: 0.5,
      breaks: '10: 0.4; 25.5 m: 0.3',
    };
    expect(read(Offer, metre, pounds)).toMatchObject({
      breaks: [
        { fromMm: 10_000, pricePerMetre: gbp('0.4') },
        { fromMm: 25_500, pricePerMetre: gbp('0.3') },
      ],
    });
    const kit = { form: 'kit', code: 'o', supplier: 's', contents: 'ring-6: 10, 5 x bullet', packPrice: '4' };
    expect(read(Offer, kit, pounds)).toMatchObject({
      contents: [
        { part: 'ring-6', quantity: 10 },
        { part: 'bullet', quantity: 5 },
      ],
    });
  });

  test('is priced in its supplier’s currency', () => {
    const context = { ...pounds, currencyOf: () => 'EUR' };
    expect(read(Offer, pack, context)).toMatchObject({ packPrice: { amount: '0.42', currency: 'EUR' } });
  });

  test('with breaks that cannot be read is told with its own figures', () => {
    expect(refusal(Offer, { ...pack, breaks: '10 for 0.38' }, pounds).todo).toContain('"10: 0.38"');
  });

  test('breaks and contents as they are written are read back', () => {
    const price = fc.integer({ min: 1, max: 1e6 }).map((n) => gbp((n / 10_000).toFixed(4)));
    const breaks = fc.array(fc.record({ fromMm: fc.integer({ min: 1, max: 1e8 }), pricePerMetre: price }), {
      minLength: 1,
    });
    const contents = fc.array(
      fc.record({ part: fc.stringMatching(/^[A-Za-z0-9][A-Za-z0-9._-]{0,20}$/), quantity: fc.nat(1e6) }),
      { minLength: 1 },
    );
    fc.assert(
      fc.property(breaks, contents, fc.boolean(), (by, held, decimalComma) => {
        const context = { ...pounds, decimalComma };
        const metre = { form: 'metre', breaks: breaksShort(by, context) };
        expect(expanded(Offer, metre, context)).toEqual({
          document: { form: 'metre', breaks: by },
          faults: [],
          more: 0,
          tooLong: [],
        });
        const kit = { form: 'kit', contents: contentsShort(held, context) };
        expect(expanded(Offer, kit, context)).toEqual({
          document: { form: 'kit', contents: held },
          faults: [],
          more: 0,
          tooLong: [],
        });
      }),
    );
  });

  test('amounts as they are written are read back, in any currency', () => {
    const money = fc.record({
      amount: fc.integer({ min: 0, max: 1e9 }).map((n) => (n / 100).toFixed(2)),
      currency: fc.constantFrom('GBP', 'EUR', 'USD'),
    });
    fc.assert(
      fc.property(money, fc.boolean(), (value, decimalComma) => {
        const context = { ...pounds, decimalComma };
        expect(read(Money, moneyShort(value, context), context)).toEqual(value);
      }),
    );
  });
});
