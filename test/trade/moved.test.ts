import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { withMoved } from './moved/constant.ts';
import { faultsOf, type Noticed } from './moved/judge.ts';
import { OTHER_CONSTANTS } from './moved/otherConstants.ts';
import { TRADE_CONSTANTS } from './moved/tradeConstants.ts';

const ENGINE = join(import.meta.dirname, '..', '..', 'worker', 'engine');
const constants = [...TRADE_CONSTANTS, ...OTHER_CONSTANTS];

test.each(constants)('the constant $text stands once in $file, and is moved there', (constant) => {
  const source = readFileSync(join(ENGINE, constant.file), 'utf8');
  expect(withMoved(source, constant, 1.02)).not.toBe(source);
});

test('no constant is moved twice', () => {
  expect(new Set(constants.map(({ file, text }) => `${file} ${text}`)).size).toBe(constants.length);
});

describe('a constant', () => {
  const at = { file: 'f.ts', text: 'A = «58»;' };

  test('is moved by a share of itself, or another stands in its place', () => {
    expect(withMoved('const A = 58;\n', at, 0.98)).toBe('const A = (58 * 0.98);\n');
    expect(withMoved("['GN', x]", { file: 'f.ts', text: "'«GN»'", instead: 'Q' }, 1.02)).toBe("['Q', x]");
  });

  test('that is not found, stands twice or is not marked is not moved', () => {
    expect(() => withMoved('const B = 58;', at, 1.02)).toThrow('stands in it 0 times');
    expect(() => withMoved('A = 58; A = 58;', at, 1.02)).toThrow('stands in it 2 times');
    expect(() => withMoved('A = 58;', { ...at, text: 'A = 58;' }, 1.02)).toThrow('nothing is marked');
  });
});

describe('at fault is', () => {
  const of = (up: string[], down: string[] | undefined, oneWay?: string): Noticed => ({
    constant: { file: 'f.ts', text: '«1»', ...(oneWay === undefined ? {} : { oneWay }) },
    up,
    down,
  });

  test('nothing where each constant fails a check both ways, or one way with the reason, and each check fails', () => {
    const noticed = [of(['a'], ['a']), of(['b'], [], 'a step'), of([], ['c'], 'a step')];
    expect(faultsOf(noticed, ['a', 'b', 'c'], [])).toEqual([]);
    expect(faultsOf(noticed, ['a', 'b', 'c', 'd: 1'], [{ naming: 'd', why: 'letters' }])).toEqual([]);
  });

  test('a constant that no check notices, or one way only without a reason, or with a reason both ways', () => {
    expect(faultsOf([of([], []), of(['a'], ['a'])], ['a'], [])).toEqual(['no check notices f.ts: «1»']);
    expect(faultsOf([of(['a'], [])], ['a'], [])).toEqual(['one way only, and no reason why: f.ts: «1»']);
    expect(faultsOf([of(['a'], ['a'], 'a step')], ['a'], [])).toEqual([
      'noticed both ways after all: f.ts: «1»',
    ]);
  });

  test('a check that no constant fails, and a reason for one that does fail', () => {
    const noticed = [of(['a'], ['a'])];
    expect(faultsOf(noticed, ['a', 'b'], [])).toEqual(['no constant fails the check of b']);
    expect(faultsOf(noticed, ['a'], [{ naming: 'a', why: 'none' }])).toEqual(['a reason for nothing: a']);
  });
});
