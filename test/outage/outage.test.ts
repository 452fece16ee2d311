import { describe, expect, test } from 'vitest';
import { problemOf, unforeseenProblem, type Asked } from '../../api/http/problem.ts';
import { DatabaseAway, meaningOf, outageOf, OutcomeUnknown, StorageFull } from '../../db/outage.ts';
import { startFault } from '../../worker/startFault.ts';

/** An error as PostgreSQL's driver throws it, in the wrapping that Drizzle gives it. */
const thrown = (code: string, fields: { severity?: string; message?: string } = {}) =>
  new Error('Failed query: select 1', {
    cause: Object.assign(new Error(fields.message ?? ''), { code, ...fields }),
  });

const post: Asked = { method: 'POST', once: false, stage: 'storing' };

describe('an error of a transaction', () => {
  test.each([
    ['ECONNREFUSED', undefined],
    ['CONNECTION_CLOSED', undefined],
    ['57P01', 'FATAL'],
    ['57014', 'ERROR'],
    ['53300', 'FATAL'],
    ['25006', 'ERROR'],
    ['08006', 'FATAL'],
  ])('%s before the commit means that the database is away and nothing is stored', (code, severity) => {
    expect(meaningOf(thrown(code, severity === undefined ? {} : { severity }), false)).toBeInstanceOf(
      DatabaseAway,
    );
  });

  test.each([
    ['53100', 'could not extend file'],
    ['58030', 'could not write: No space left on device'],
    ['ENOSPC', ''],
  ])('%s means that the disk is full', (code, message) => {
    expect(meaningOf(thrown(code, { message }), false)).toBeInstanceOf(StorageFull);
  });

  test('of a disk that fails otherwise, or of the work itself, stays what it is', () => {
    for (const error of [
      thrown('58030', { message: 'Input/output error' }),
      thrown('23505'),
      new RangeError('x'),
    ])
      expect(meaningOf(error, false)).toBe(error);
  });

  test('after COMMIT was handed over says that nothing is stored only where the server answered with an ERROR', () => {
    const unknown = [
      thrown('CONNECTION_CLOSED'),
      thrown('57P01', { severity: 'FATAL' }),
      new Error('the engine ended'),
    ];
    for (const error of unknown) expect(meaningOf(error, true)).toBeInstanceOf(OutcomeUnknown);
    const deferred = thrown('23503', { severity: 'ERROR' });
    expect(meaningOf(deferred, true)).toBe(deferred);
    expect(meaningOf(thrown('53100', { severity: 'ERROR' }), true)).toBeInstanceOf(StorageFull);
  });

  test('keeps its SQLSTATE and none of its SQL', () => {
    const away = meaningOf(thrown('57P01', { severity: 'FATAL' }), false) as Error;
    expect(outageOf(away)).toBe('away');
    expect(away.message).not.toContain('select');
  });
});

describe('the problem of a lost answer', () => {
  const lost = new OutcomeUnknown('lost');
  const kindOf = (asked: Asked) => problemOf(lost, asked)?.kind;

  test('is an unknown outcome only of a request that was storing', () => {
    expect(kindOf(post)).toBe('outcome-unknown');
    expect(kindOf({ ...post, stage: 'maybe' })).toBe('outcome-unknown');
    expect(kindOf({ ...post, stage: 'before' })).toBe('database-away');
    expect(kindOf({ ...post, method: 'GET' })).toBe('database-away');
  });
});

describe('what nobody foresaw', () => {
  const detail = (asked: Asked) => unforeseenProblem(asked, 'r').message;

  test('says that nothing was stored only where that is known', () => {
    expect(detail(post)).toContain('Nothing was stored.');
    expect(detail({ ...post, stage: 'before' })).toContain('Nothing was stored.');
    expect(detail({ ...post, stage: 'maybe' })).toContain('It may be stored or not.');
    expect(detail({ ...post, stage: 'maybe', once: true })).toContain('same Idempotency-Key');
    expect(detail({ ...post, method: 'GET', stage: 'maybe' })).not.toContain('stored');
  });
});

describe('a process that cannot start', () => {
  test.each([
    ['53100', /disk of the database is full/],
    ['ENOSPC', /disk is full/],
    ['57P03', /starting or stopping/],
    ['SESSION_NOT_READ-WRITE', /read-only/],
    ['CONNECTION_CLOSED', /does not answer/],
  ])('says what %s means', (code, sentence) => {
    expect(startFault(thrown(code))).toMatch(sentence);
  });
});
