import { describe, expect, test } from 'vitest';
import { faultsOf } from '../../worker/engine/model/faults.ts';
import { Job } from '../../worker/engine/model/job.ts';
import { LoomRevision } from '../../worker/engine/model/loom.ts';
import { consumable, jobOf } from '../engine/fixtures.ts';

const loom = (options: string[], own: string[] = []) => ({
  name: 'n',
  options,
  parts: [
    { part: 'tie', quantity: 1 },
    { part: 'tie', quantity: 2, ...(own.length > 0 ? { options: own } : {}) },
  ],
});

function faultsOfLoom(options: string[], own: string[] = []): string[] {
  const document = loom(options, own);
  const read = LoomRevision.safeParse(document);
  return read.success ? [] : faultsOf(read.error, document).map(({ code, at }) => `${code} ${at}`);
}

function faultsOfRequest(chosen: string[] | undefined) {
  const { request, ...job } = jobOf({ parts: [consumable('tie')], loom: loom(['overdrive']) });
  const document = {
    ...job,
    looms: [{ ...job.looms[0], ...loom(['RHD | LHD', 'overdrive'], ['RHD']) }],
    request: { looms: [{ ...request.looms[0], ...(chosen ? { options: chosen } : {}) }] },
  };
  const read = Job.safeParse(document);
  return read.success ? [] : faultsOf(read.error, document);
}

describe('a choice among a loom’s options', () => {
  test('is stored in one form, however it is spaced', () => {
    for (const entry of ['RHD | LHD', 'RHD|LHD', ' RHD  |LHD '])
      expect(LoomRevision.parse(loom([entry, 'overdrive'])).options).toEqual(['RHD | LHD', 'overdrive']);
  });

  test('has two options or more, each once', () => {
    for (const entry of ['RHD |', '| RHD', 'RHD | RHD', '|'])
      expect(faultsOfLoom([entry])).toEqual(['choice-not-complete /options/0']);
    expect(faultsOfLoom(['RHD | LHD | CHD'])).toEqual([]);
  });

  test('shares no option with another entry', () => {
    expect(faultsOfLoom(['RHD | LHD', 'RHD'])).toEqual(['option-stated-twice /options/1']);
    expect(faultsOfLoom(['RHD', 'RHD | LHD'])).toEqual(['option-stated-twice /options/1']);
    expect(faultsOfLoom(['RHD | LHD', 'LHD | CHD'])).toEqual(['option-stated-twice /options/1']);
    // As it was before there were choices.
    expect(faultsOfLoom(['RHD', 'RHD'])).toEqual([]);
  });

  test('is named at things by its single options, and never by two of them', () => {
    expect(faultsOfLoom(['RHD | LHD'], ['RHD'])).toEqual([]);
    expect(faultsOfLoom(['RHD | LHD'], ['RHD | LHD'])).toEqual(['unknown-option /parts/1/options/0']);
    expect(faultsOfLoom(['RHD | LHD'], ['RHD', 'LHD'])).toEqual([
      'options-exclude-each-other /parts/1/options',
    ]);
  });

  test('is made in the request: none or both are refused with the options', () => {
    expect(faultsOfRequest(['LHD'])).toEqual([]);
    expect(faultsOfRequest(['overdrive', 'RHD', 'RHD'])).toEqual([]);
    expect(faultsOfRequest(undefined)).toMatchObject([
      {
        code: 'one-of-not-chosen',
        at: '/request/looms/0/options',
        todo: 'The loom l is made with exactly one of RHD, LHD, and none of them is chosen; choose one of them.',
      },
    ]);
    expect(faultsOfRequest(['overdrive'])).toMatchObject([{ code: 'one-of-not-chosen' }]);
    expect(faultsOfRequest(['LHD', 'overdrive', 'RHD'])).toMatchObject([
      {
        code: 'one-of-chosen-twice',
        at: '/request/looms/0/options/2',
        todo: 'The loom l is made with exactly one of RHD, LHD, and LHD and RHD are chosen; choose one of them.',
      },
    ]);
    expect(faultsOfRequest(['RHD | LHD']).map(({ code }) => code)).toEqual([
      'unknown-option',
      'one-of-not-chosen',
    ]);
  });
});
