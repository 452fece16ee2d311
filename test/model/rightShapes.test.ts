import { z } from 'zod';
import { describe, expect, test } from 'vitest';
import { exampleOf, schemaAt } from '../../worker/engine/model/examples.ts';
import { faultsOf } from '../../worker/engine/model/faults.ts';
import { Job, QuoteRequest } from '../../worker/engine/model/job.ts';
import { Offer } from '../../worker/engine/model/offer.ts';
import { fullJob } from './documents.ts';
import { jobFaults } from './jobFaults.ts';
import { changed } from './pointing.ts';

type Any = z.core.$ZodType;

/** A schema with all that are inside it, each once. */
function allIn(schema: Any, found = new Set<Any>()): Set<Any> {
  if (found.has(schema)) return found;
  found.add(schema);
  const def = schema._zod.def as z.core.$ZodTypes['_zod']['def'];
  const inner: Any[] =
    def.type === 'object'
      ? Object.values(def.shape)
      : def.type === 'array'
        ? [def.element]
        : def.type === 'union'
          ? [...def.options]
          : def.type === 'optional' || def.type === 'default'
            ? [def.innerType]
            : [];
  for (const each of inner) allIn(each, found);
  return found;
}

const wire = '/looms/0/wires/0';
const todoAt = (at: string, value: unknown) => {
  const fault = jobFaults(changed(fullJob(), at, value)).find((each) => each.at === at);
  return [fault?.code, fault?.todo];
};

describe('an example', () => {
  test('of every shape in a job and a request is taken by that shape', () => {
    let given = 0;
    for (const schema of [...allIn(Job), ...allIn(QuoteRequest)]) {
      const example = exampleOf(schema);
      if (example === undefined) continue;
      given++;
      // A loom of examples alone holds no points for its wires.
      const read = z.safeParse(schema, example);
      const told = read.success ? [] : faultsOf(read.error, example).map(({ code }) => code);
      expect(told.filter((code) => !/^(empty-loom|unknown-|missing-point)/.test(code))).toEqual([]);
    }
    expect(given).toBeGreaterThan(100);
  });

  test('is found by the path of a fault, in the shape that the document states', () => {
    const offer = { form: 'metre', pricePerMetre: 3 };
    const at = (path: PropertyKey[]) => schemaAt(Offer, path, offer);
    expect(exampleOf(at(['pricePerMetre', 'currency']) ?? Offer)).toBe('GBP');
    expect(at(['packPrice'])).toBeUndefined();
    expect(at(['nothing'])).toBeUndefined();
  });
});

describe('a wrong shape', () => {
  test.each([
    ['/offers/0/packPrice', true, 'an object here, such as {"amount":"3.95","currency":"GBP"}'],
    [`${wire}/size`, true, 'an object here, such as {"system":"metricStrands","strands":14,"strandMm":0.3}'],
    [`${wire}/colour`, ['GW'], 'an object here, such as {"base":"green","tracer":"yellow"}'],
    [`${wire}/length`, [620], 'an object here, such as {"mm":620,"basis":"route"}'],
    [`${wire}/from`, ['P1'], 'an object here, such as {"point":"P1","terminal":{"part":"ring-6-15"}}'],
    ['/looms/0/points/0', 'P1', 'an object here, such as {"id":"P1","kind":"connector"}'],
    [`${wire}/via`, { b1: true }, 'a list here, such as ["B1","B2"]'],
    [`${wire}/from/stripMm`, '6', 'a number here, such as 6'],
  ])('at %s is told with an example of the right one', (at, value, text) => {
    expect(todoAt(at, value)).toEqual(['wrong-type', `Give ${text}.`]);
  });
});

describe('a missing field', () => {
  test.each([
    [`${wire}/from`, 'The field from is missing. Give an object here, such as {"point":"P1"'],
    [`${wire}/id`, 'The field id is missing. Give a text in quotes here, such as "'],
    [`${wire}/length/basis`, 'The field basis is missing. Give one of: tipToTip, sheathToSheath, route.'],
    [`${wire}/size/system`, 'The field system is missing. System is one of: mm2, awg, sae,'],
    [
      '/offers/0/packPrice/currency',
      'The field currency is missing. Give a text in quotes here, such as "GBP".',
    ],
  ])('at %s is told by its name', (at, todo) => {
    const [code, told] = todoAt(at, undefined);
    expect(code).toBe('missing-field');
    expect(told?.startsWith(todo)).toBe(true);
  });
});

describe('faults of names', () => {
  const codesAt = (...changes: [at: string, value: unknown][]) =>
    jobFaults(changes.reduce<unknown>((job, [at, value]) => changed(job, at, value), fullJob())).map(
      ({ at, code }) => `${code} ${at}`,
    );
  const unknown: [string, unknown][] = [
    [`${wire}/from/terminal/part`, 'ghost'],
    ['/looms/0/branches/0/from', 'nowhere'],
    ['/offers/0/supplier', 'nobody'],
    ['/request/looms/0/loom', 'phantom'],
  ];
  const theirs = [
    `unknown-part ${wire}/from/terminal/part`,
    'missing-point /looms/0/branches/0/from',
    'unknown-supplier /offers/0/supplier',
    'unknown-loom /request/looms/0/loom',
  ];

  test.each([
    ['a wire that is no object', '/looms/0/wires/3', 'W4'],
    ['an end that is no object', '/looms/0/wires/3/to', ['earth']],
    ['a terminal that is no object', '/looms/0/wires/3/to/terminal', true],
    ['a way that is no list', '/looms/0/wires/3/via', 7],
    ['a rate that is no object', '/rates', [7]],
    ['pins that are no list', '/request/pinned', 'all'],
    ['a club that is nothing', '/club', undefined],
    ['a fitting without its part', '/looms/0/fittings/0/part', undefined],
  ])('are told together with %s', (_, at, value) => {
    const told = codesAt(...unknown, [at, value]);
    expect(told).toEqual(expect.arrayContaining(theirs));
    expect(told.some((each) => each.endsWith(` ${at}`) || each.endsWith(` ${at}/0`))).toBe(true);
  });

  test('are not invented where a list cannot be read: what it names may be there', () => {
    expect(codesAt(['/looms/0/points', 'earth'])).toEqual(['wrong-type /looms/0/points']);
    expect(codesAt(['/suppliers', 3])).toEqual(['wrong-type /suppliers']);
    expect(codesAt(['/looms/0/branches/0/id', undefined])).toEqual(['missing-field /looms/0/branches/0/id']);
    expect(codesAt(['/looms/0/coverings/0', 'sleeve'])).toEqual(['wrong-type /looms/0/coverings/0']);
    expect(codesAt(['/looms/0/options', 7])).toEqual(['wrong-type /looms/0/options']);
  });
});
