import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { normaliseJob } from '../../worker/engine/job/normalise.ts';
import { rollUp } from '../../worker/engine/loom/rollUp.ts';
import { Job } from '../../worker/engine/model/job.ts';

type Json = string | number | boolean | null | undefined | Json[] | { [key: string]: Json };
type Change = { path: string[]; to: Json };

const read = (name: string) =>
  JSON.parse(readFileSync(new URL(`../../examples/van/${name}.json`, import.meta.url), 'utf8')) as Json;
const first = read('job');
const second = read('second-revision');

/** What checks and roll-up find in a job, nothing of sourcing. */
function findingsOf(document: Json) {
  const control = { remainingMs: () => 60_000, cancelled: () => false, report: () => undefined };
  return rollUp(normaliseJob(Job.parse(document)), control).findings;
}
const told = (document: Json) =>
  findingsOf(document)
    .filter(({ accepted }) => accepted === undefined)
    .map(({ severity, code, subject }) => `${severity} ${code} ${subject ?? ''}`)
    .sort();

const nameOf = (item: Json, index: number): string => {
  if (item === null || typeof item !== 'object' || Array.isArray(item)) return `${index}`;
  const { id, code } = item;
  return typeof id === 'string' ? id : typeof code === 'string' ? code : `${index}`;
};

/** What a list or an object holds: list items by their id or code. */
function entries(json: Json): Map<string, Json> {
  if (Array.isArray(json)) return new Map(json.map((item, index) => [nameOf(item, index), item]));
  return new Map(json !== null && typeof json === 'object' ? Object.entries(json) : []);
}

/** The places at which two documents differ, by ids and codes. */
function changes(one: Json, other: Json, path: string[] = []): Change[] {
  const [before, after] = [entries(one), entries(other)];
  if (before.size + after.size === 0) return one === other ? [] : [{ path, to: other }];
  return [...new Set([...before.keys(), ...after.keys()])].flatMap((key) =>
    changes(before.get(key), after.get(key), [...path, key]),
  );
}

function changed(json: Json, { path: [key, ...rest], to }: Change): Json {
  if (key === undefined) return to;
  if (Array.isArray(json))
    return json.map((item, index) =>
      nameOf(item, index) === key ? changed(item, { path: rest, to }) : item,
    );
  if (json === null || typeof json !== 'object') return { [key]: changed(undefined, { path: rest, to }) };
  return { ...json, [key]: changed(json[key], { path: rest, to }) };
}

const inLoom = 'looms/ostler-main';
const MISTAKES = [
  {
    mistake: 'a socket where the plug belongs',
    at: `${inLoom}/points/column-lead/part`,
    found: 'stop does-not-mate point:column-lead',
  },
  {
    mistake: 'a seal too small for its wire',
    at: `${inLoom}/wires/M24/to/seal/part`,
    found: 'stop seal-range wire:M24:to',
  },
  {
    mistake: 'a fuse too big for the wires behind it',
    at: `${inLoom}/wires/M51/fuse/ratingAmps`,
    found: 'stop fuse-too-big wire:M52',
  },
  {
    mistake: 'a terminal of another family than the housing’s',
    at: `${inLoom}/wires/M71/from/terminal/part`,
    found: 'stop not-of-family part:water-male@column',
  },
  {
    mistake: 'two circuits of one colour at one plug',
    at: `${inLoom}/wires/M44/colour/letters`,
    found: 'warning colour-on-two-circuits point:column:colour:green+red',
  },
  {
    mistake: 'a sleeve too tight for its branch',
    at: `${inLoom}/coverings/C10/part`,
    found: 'stop covering-too-tight covering:C10',
  },
];

describe('the van', () => {
  test('has in its first revision nothing but what it accepts as original', () => {
    const findings = findingsOf(first);
    expect(
      findings.map(({ severity, code, subject, accepted }) => [severity, code, subject, typeof accepted]),
    ).toEqual([
      ['note', 'fuse-too-big', 'wire:M23', 'string'],
      ['note', 'fuse-too-big', 'wire:M28', 'string'],
      ['note', 'colour-on-two-circuits', 'point:solenoid:colour:black', 'string'],
      ...['M12', 'M60', 'M64', 'M56', 'M16'].map((wire) => [
        'note',
        'no-fuse',
        `circuit:ostler-main/${wire}`,
        'string',
      ]),
    ]);
  });

  test('has a second revision that differs by six mistakes and its number', () => {
    const places = changes(first, second).map(({ path }) => path.join('/'));
    expect(places.sort()).toEqual([`${inLoom}/revision`, ...MISTAKES.map(({ at }) => at)].sort());
  });

  test('has all six found in it, and nothing else', () => {
    expect(told(second)).toEqual(MISTAKES.map(({ found }) => found).sort());
    const accepted = findingsOf(second).filter((finding) => finding.accepted !== undefined);
    expect(accepted).toHaveLength(8);
  });

  test.each(MISTAKES)('with $mistake alone has that one found', ({ at, found }) => {
    const change = changes(first, second).find(({ path }) => path.join('/') === at);
    if (!change) throw new Error(`the second revision does not differ at ${at}`);
    expect(told(changed(first, change))).toEqual([found]);
  });

  test('is told of each mistake what is found, what would be right, and what to do', () => {
    const mistakes = findingsOf(second).filter(({ accepted }) => accepted === undefined);
    expect(mistakes.map(({ found, limit }) => `${found}: ${limit ?? ''}`).join('\n')).toContain(
      // Two wires lie beside each other at 4.4 + 2.9 mm; 1.03 m is threaded, so 10 + 5 × 1.03 % wider: 8.406 mm.
      'pvc-6, a bore of 6 mm over 7.3 mm: a bore of at least 8.41 mm',
    );
    expect(mistakes).toHaveLength(6);
    for (const { todo, source, limit } of mistakes) {
      expect(todo.length).toBeGreaterThan(20);
      expect([source, limit]).not.toContain(undefined);
    }
  });
});
