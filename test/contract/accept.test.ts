import { describe, expect, test } from 'vitest';
import { acceptable, formOf, qualityOf } from '../../api/http/accept.ts';
import { changeableBy, knownBy, packedEtag } from '../../api/http/etag.ts';
import { takesGzip } from '../../api/http/send.ts';

describe('an Accept header, as the examples of RFC 9110 §12.5.1 have it', () => {
  test('audio/*; q=0.2, audio/basic: "I prefer audio/basic, but send me any audio type"', () => {
    const header = 'audio/*; q=0.2, audio/basic';
    expect(acceptable(header, ['audio/mp4', 'audio/basic'])).toBe('audio/basic');
    expect(acceptable(header, ['audio/mp4'])).toBe('audio/mp4');
    expect(acceptable(header, ['text/plain'])).toBeUndefined();
  });

  test('text/html and text/x-c are equally preferred, then text/x-dvi, then text/plain', () => {
    const header = 'text/plain; q=0.5, text/html, text/x-dvi; q=0.8, text/x-c';
    const left = ['text/plain', 'text/x-dvi', 'text/x-c', 'text/html'];
    const order: string[] = [];
    while (left.length > 0) {
      const best = acceptable(header, left) ?? '';
      order.push(best);
      left.splice(left.indexOf(best), 1);
    }
    expect(order).toEqual(['text/x-c', 'text/html', 'text/x-dvi', 'text/plain']);
  });

  test('the most specific range that is in it says how much a type is liked', () => {
    const precedence = 'text/*, text/plain;q=0.9, text/plain;format=flowed;q=0.8, */*;q=0.7';
    expect(qualityOf(precedence, 'text/plain;format=flowed')).toBe(0.8);
    expect(qualityOf(precedence, 'text/plain')).toBe(0.9);
    expect(qualityOf(precedence, 'text/html')).toBe(1);
    expect(qualityOf(precedence, 'image/png')).toBe(0.7);
  });

  // The table's last row, text/html;level=3, is left out: it says 0.7, and the rule above it gives 0.3.
  test.each([
    ['text/plain;format=flowed', 1],
    ['text/plain', 0.7],
    ['text/html', 0.3],
    ['image/jpeg', 0.5],
    ['text/plain;format=fixed', 0.4],
  ])('in the table %s has the value %d', (type, quality) => {
    const header =
      'text/*;q=0.3, text/plain;q=0.7, text/plain;format=flowed, text/plain;format=fixed;q=0.4, */*;q=0.5';
    expect(qualityOf(header, type)).toBe(quality);
  });
});

describe('an Accept header', () => {
  const types = ['application/json', 'text/csv', 'text/html'];

  test.each([
    [undefined, 'application/json'],
    ['', 'application/json'],
    ['*/*', 'application/json'],
    ['text/*', 'text/csv'],
    ['TEXT/HTML', 'text/html'],
    ['text/html,application/xhtml+xml,application/xml;q=0.9,*/*;q=0.8', 'text/html'],
    ['application/json;q=0, */*', 'text/csv'],
    ['text/csv, */*', 'text/csv'],
    ['application/json; charset=utf-8', 'application/json'],
    ['text/html ; q=0.1 , text/csv;q=0.2', 'text/csv'],
    ['text/html;note="a,b;q=1", text/csv;q=0.5', 'text/csv'],
    ['image/png', undefined],
    ['*/*;q=0', undefined],
    ['text/html;q=2', undefined],
    ['text/html;q=0.1234', undefined],
  ])('of %j picks %s', (header, type) => expect(acceptable(header, types)).toBe(type));

  test('is overruled by what the query states, and refused with all that there is', () => {
    const forms = { json: 'application/json', csv: 'text/csv' } as const;
    expect(formOf('text/csv', 'json', forms)).toBe('json');
    expect(() => formOf('image/png', undefined, forms)).toThrow(/application\/json, text\/csv/);
  });
});

describe('Accept-Encoding (RFC 9110 §12.5.3)', () => {
  test.each([
    [undefined, false],
    ['', false],
    ['gzip', true],
    ['compress, gzip', true],
    ['*', true],
    ['compress;q=0.5, gzip;q=1.0', true],
    ['gzip;q=1.0, identity; q=0.5, *;q=0', true],
    ['gzip;q=0', false],
    ['*;q=0', false],
    ['gzip;q=0, *', false],
    ['identity, gzip;q=0.5', false],
    ['br, deflate', false],
    ['gzip;q=high', false],
  ])('%j takes gzip: %s', (header, taken) => expect(takesGzip(header)).toBe(taken));
});

describe('If-Match (RFC 9110 §13.1.1)', () => {
  const version = (number: number) => ({ number, born: 36 });

  test.each([
    ['"3-10"', [version(3)]],
    ['"3-10", "4-10"', [version(3), version(4)]],
    ['"xyzzy", "4-10-gzip"', [version(4)]],
    ['W/"3-10", "4-10"', [version(4)]],
    [' * ', 'any'],
  ])('%s names %j', (header, names) => expect(changeableBy(header)).toEqual(names));

  test.each(['W/"3-10"', '"x"', '3-10', '', '"3-10', '""'])('%s names nothing of ours', (header) =>
    expect(() => changeableBy(header)).toThrow(/not an ETag of this resource/),
  );

  test('is needed', () => expect(() => changeableBy(undefined)).toThrow(/Send If-Match/));
});

describe('If-None-Match (RFC 9110 §13.1.2) compares weakly', () => {
  const own = '"xyzzy"';

  test.each([
    ['"xyzzy"', own],
    ['W/"xyzzy"', own],
    ['"r2d2xxxx", "xyzzy", "c3piozzzz"', own],
    ['W/"r2d2xxxx", W/"xyzzy", W/"c3piozzzz"', own],
    ['*', own],
    ['"a,b", "xyzzy"', own],
    [packedEtag(own), packedEtag(own)],
    ['"xyzz"', undefined],
    ['xyzzy', undefined],
    [undefined, undefined],
  ])('%s', (header, known) => expect(knownBy(header, own)).toBe(known));
});
