import { describe, expect, it } from 'vitest';
import { fullJob } from './documents.ts';
import { jobFaults } from './jobFaults.ts';
import { changed, objectsIn } from './pointing.ts';

const objects = objectsIn(fullJob());

describe('an unknown field', () => {
  it('is looked for in every object of a full job', () => {
    expect(objects.length).toBeGreaterThan(100);
  });

  it.each(objects)('is refused at "%s", by its own pointer', (at) => {
    const faults = jobFaults(changed(fullJob(), `${at}/surprise`, 1));
    expect(faults.map((fault) => [fault.at, fault.code])).toEqual([[`${at}/surprise`, 'unknown-field']]);
    expect(faults[0]?.todo).toContain('surprise');
  });

  it('is refused by its name where it is close to a known one', () => {
    const faults = jobFaults(changed(fullJob(), '/looms/0/wires/0/lenght', { mm: 5, basis: 'route' }));
    expect(faults).toMatchObject([{ at: '/looms/0/wires/0/lenght', where: 'loom old, wire 1, lenght' }]);
  });
});
