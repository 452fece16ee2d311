import { describe, expect, test } from 'vitest';
import { flagsOf, limitFor, PARTS } from './flags.ts';

describe('the flags of the bench', () => {
  test('run everything where none is given', () => {
    const flags = flagsOf([]);
    expect([...flags.only]).toEqual([...PARTS]);
    expect(flags.seeds).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 10]);
    expect([flags.seconds, flags.directSeconds, flags.json]).toEqual([60, 120, undefined]);
  });

  test('choose parts, seeds and limits', () => {
    const args = ['--only', 'wide,cutting', '--seeds', '2-3', '--seconds', '5', '--direct-seconds', '0'];
    const flags = flagsOf([...args, '--json', 'rows.json']);
    expect([...flags.only]).toEqual(['wide', 'cutting']);
    expect(flags.seeds).toEqual([2, 3]);
    expect([flags.seconds, flags.directSeconds, flags.json]).toEqual([5, 0, 'rows.json']);
  });

  test('give the widest its own limit, unless they allow less', () => {
    expect(limitFor('widest', { seconds: 60 })).toBe(30);
    expect(limitFor('widest', { seconds: 5 })).toBe(5);
    expect(limitFor('pool', { seconds: 60 })).toBe(60);
  });

  test.each([
    [['--only', 'narrow'], /there is no narrow/],
    [['--seeds', '3-1'], /no range/],
    [['--seeds', 'all'], /no range/],
    [['--seconds', '0'], /no number from 1 on/],
    [['--direct-seconds', 'x'], /no number from 0 on/],
    [['--sedes', '1'], /--sedes/],
  ])('are refused in words: %j', (args, words) => {
    expect(() => flagsOf(args)).toThrow(words);
  });
});
