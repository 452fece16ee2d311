import { Decimal } from 'decimal.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Currency, Money, Price } from '../../worker/engine/model/money.ts';
import { currencyExponent } from '../../worker/engine/units/currency.ts';
import {
  exactFromAmount,
  exactToAmount,
  minorToAmount,
  priceTimesMm,
  solverToExactFloor,
  toMinor,
} from '../../worker/engine/units/money.ts';

/** Decimals of the minor unit by ISO 4217 (list one), as the npm package currency-codes carries it. */
const ISO_4217 = { GBP: 2, EUR: 2, USD: 2, JPY: 0, KRW: 0, KWD: 3, BHD: 3, CLF: 4 } as const;
const currency = fc.constantFrom(...(Object.keys(ISO_4217) as (keyof typeof ISO_4217)[]));

/** The scale of exact money: ten-millionths of a minor unit. */
const EXACT_PER_MINOR = 10n ** 7n;

/** A reference wide enough that nothing here is rounded by it. */
const Wide = Decimal.clone({ precision: 100, toExpPos: 100, toExpNeg: -100 });

/** A currency with an amount of at most 12 digits before the dot and `extra` decimals beyond its minor unit. */
const priced = (extra: number) =>
  currency.chain((code) => {
    const places = Math.min(8, ISO_4217[code] + extra);
    return fc.bigInt({ min: 0n, max: 10n ** BigInt(12 + places) - 1n }).map((scaled) => ({
      currency: code,
      amount: new Wide(scaled.toString()).div(new Wide(10).pow(places)).toFixed(places),
    }));
  });

describe('minor units', () => {
  it.each(Object.entries(ISO_4217))('%s has %i decimals by ISO 4217', (code, decimals) => {
    expect(currencyExponent(code)).toBe(decimals);
    expect(minorToAmount(1234n, code)).toBe(new Wide(1234).div(10 ** decimals).toFixed(decimals));
  });

  it('are unknown for what is no currency', () => {
    for (const code of ['ZZZ', 'GBX', 'GB', '']) expect(currencyExponent(code)).toBeUndefined();
    for (const code of ['ZZZ', 'GBX', 'GB', '', 'gbp', 'GBPS'])
      expect(Currency.safeParse(code).success).toBe(false);
    expect(() => exactFromAmount('1', 'ZZZ')).toThrow(RangeError);
  });
});

describe('exact money', () => {
  it('holds every price that an offer may carry, and gives it back', () => {
    fc.assert(
      fc.property(priced(4), ({ amount, currency: code }) => {
        expect(Price.safeParse({ amount, currency: code }).success).toBe(true);
        const exact = exactFromAmount(amount, code);
        expect(new Wide(exactToAmount(exact, code)).eq(amount)).toBe(true);
        expect(exactToAmount(exact, code).split('.')[1]?.length ?? 0).toBeGreaterThanOrEqual(ISO_4217[code]);
      }),
    );
  });

  it('is a price times a length without any rounding', () => {
    fc.assert(
      fc.property(priced(4), fc.integer({ min: 0, max: 100_000_000 }), ({ amount, currency: code }, mm) => {
        const cost = priceTimesMm(exactFromAmount(amount, code), mm);
        expect(new Wide(exactToAmount(cost, code)).eq(new Wide(amount).mul(mm).div(1000))).toBe(true);
      }),
    );
  });

  it('adds up as decimals do: ten times 0.1 is 1', () => {
    const tenth = exactFromAmount('0.1', 'GBP');
    expect(exactToAmount(tenth * 10n, 'GBP')).toBe('1.00');
    fc.assert(
      fc.property(
        fc.array(
          priced(4).map(({ amount }) => amount),
          { maxLength: 30 },
        ),
        (amounts) => {
          const fine = amounts.map((amount) => new Wide(amount).toDecimalPlaces(6).toFixed());
          const sum = fine.reduce((total, amount) => total + exactFromAmount(amount, 'GBP'), 0n);
          const reference = fine.reduce((total, amount) => total.plus(amount), new Wide(0));
          expect(new Wide(exactToAmount(sum, 'GBP')).eq(reference)).toBe(true);
        },
      ),
    );
  });

  it('refuses a price that is finer than it can hold', () => {
    expect(() => exactFromAmount('0.1234567', 'GBP')).toThrow(RangeError);
    expect(() => exactFromAmount('0.12345', 'JPY')).toThrow(RangeError);
    expect(exactFromAmount('0.1234567', 'KWD')).toBe(1234567n * 10n ** 3n);
  });

  it('takes a solver’s bound down, never up', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 1e9, noNaN: true }), (minor) => {
        const exact = solverToExactFloor(minor);
        const reference = new Wide(minor).mul(EXACT_PER_MINOR.toString());
        expect(reference.gte(exact.toString())).toBe(true);
        expect(reference.minus(exact.toString()).lt(1)).toBe(true);
      }),
    );
  });
});

describe('rounding to the minor unit', () => {
  // By plain arithmetic: half-up, where floating point would say 2.34 and 1.00.
  it.each([
    ['2.345', '2.35'],
    ['1.005', '1.01'],
    ['2.344999', '2.34'],
    ['0.005', '0.01'],
    ['0.004999', '0.00'],
    ['110.00', '110.00'],
  ])('makes %s GBP %s', (amount, printed) => {
    expect(minorToAmount(toMinor(exactFromAmount(amount, 'GBP')), 'GBP')).toBe(printed);
  });

  it.each([
    ['0.5', 'JPY', '1'],
    ['1.4999', 'JPY', '1'],
    ['1.2345', 'KWD', '1.235'],
  ])('makes %s %s %s', (amount, code, printed) => {
    expect(minorToAmount(toMinor(exactFromAmount(amount, code)), code)).toBe(printed);
  });

  it('is half-up by the reference for every amount, away from zero below it', () => {
    fc.assert(
      fc.property(fc.bigInt({ min: -(10n ** 20n), max: 10n ** 20n }), (exact) => {
        const reference = new Wide(exact.toString())
          .div(EXACT_PER_MINOR.toString())
          .toDecimalPlaces(0, Decimal.ROUND_HALF_UP);
        expect(new Wide(toMinor(exact).toString()).eq(reference)).toBe(true);
      }),
    );
  });

  it('lies on the half as often as the reference says: a whole and a half goes up', () => {
    fc.assert(
      fc.property(fc.bigInt({ min: 0n, max: 10n ** 12n }), (whole) => {
        expect(toMinor(whole * EXACT_PER_MINOR + EXACT_PER_MINOR / 2n)).toBe(whole + 1n);
        expect(toMinor(whole * EXACT_PER_MINOR + EXACT_PER_MINOR / 2n - 1n)).toBe(whole);
      }),
    );
  });
});

describe('an amount in a document', () => {
  it('of money has no more decimals than the currency, of a price four more', () => {
    fc.assert(
      fc.property(currency, fc.integer({ min: 1, max: 8 }), (code, places) => {
        const value = { amount: `1.${'1'.repeat(places)}`, currency: code };
        expect(Money.safeParse(value).success).toBe(places <= ISO_4217[code]);
        expect(Price.safeParse(value).success).toBe(places <= ISO_4217[code] + 4);
      }),
    );
  });

  it('never makes the check itself fail, whatever text stands in it', () => {
    const text = fc.oneof(
      fc.string(),
      fc.constantFrom('', ',', '1,50', '1e3', 'NaN', 'Infinity', '-1', '.5', '5.', '0x10'),
    );
    fc.assert(
      fc.property(text, fc.oneof(currency, fc.string()), (amount, code) => {
        const { success } = Price.safeParse({ amount, currency: code });
        if (!/^\d{1,12}(\.\d{1,8})?$/.test(amount) || !/^[A-Z]{3}$/.test(code)) expect(success).toBe(false);
      }),
    );
  });
});
