import { describe, expect, it } from 'vitest';
import { Shade, colourKey, colourWords } from '../../worker/engine/model/colour.ts';
import { canonicalJson } from '../../worker/engine/model/canonical.ts';
import { pointer } from '../../worker/engine/model/finding.ts';
import { sizeKey, sizeLabel, type Size } from '../../worker/engine/model/size.ts';

describe('a size', () => {
  // How sizes are written in the trade: common practice, no source.
  const said = [
    [{ system: 'mm2', areaMm2: 1 }, '1 mm²'],
    [{ system: 'mm2', areaMm2: 0.35 }, '0.35 mm²'],
    [{ system: 'awg', gauge: '18' }, 'AWG 18'],
    [{ system: 'awg', gauge: '1/0' }, 'AWG 1/0'],
    [{ system: 'sae', gauge: '18' }, 'SAE 18'],
    [{ system: 'metricStrands', strands: 14, strandMm: 0.3 }, '14/0.30'],
    [{ system: 'metricStrands', strands: 21, strandMm: 0.195 }, '21/0.195'],
    [{ system: 'imperialStrands', strands: 14, strandInch: 0.012 }, '14/.012'],
    [{ system: 'imperialStrands', strands: 35, strandInch: 0.0076 }, '35/.0076'],
  ] as const satisfies readonly (readonly [Size, string])[];

  it.each(said)('%o is said as %s', (size, label) => {
    expect(sizeLabel(size)).toBe(label);
  });

  it('has a key of its own in each system, without blanks or commas', () => {
    const measured: Size = { system: 'measuredStrands', strands: 14, strandMm: 0.3 };
    const keys = [...said.map(([size]) => sizeKey(size)), sizeKey(measured)];
    expect(new Set(keys).size).toBe(keys.length);
    for (const key of keys) expect(key).not.toMatch(/[\s,]/);
  });
});

describe('a colour', () => {
  it('is said in words, with its tracer', () => {
    expect(colourWords({ base: 'green', tracer: 'yellow' })).toBe('green with yellow tracer');
    expect(colourWords({ base: 'lightGreen', tracer: 'lightBlue' })).toBe(
      'light green with light blue tracer',
    );
    expect(colourWords({ base: 'black' })).toBe('black');
  });

  it('is said in small words with blanks between, whichever shade it is', () => {
    for (const base of Shade.options) expect(colourWords({ base })).toMatch(/^[a-z]+( [a-z]+)?$/);
  });

  it('is the same colour whatever was seen, and another with base and tracer changed over', () => {
    expect(colourKey({ base: 'red', seen: 'pink by now' })).toBe(colourKey({ base: 'red' }));
    expect(colourKey({ base: 'red', tracer: 'black' })).not.toBe(colourKey({ base: 'black', tracer: 'red' }));
  });
});

describe('the same content', () => {
  it('is the same bytes whatever the order of its fields', () => {
    const one = { b: [{ y: 1, x: 2 }], a: 'ä', left: undefined };
    expect(canonicalJson({ a: 'ä', b: [{ x: 2, y: 1 }] })).toBe(canonicalJson(one));
  });
});

describe('a pointer', () => {
  // RFC 6901, section 5: the examples "/a~1b" and "/m~0n".
  it('writes a slash and a tilde inside a key as RFC 6901 has it', () => {
    expect(pointer(['a/b'])).toBe('/a~1b');
    expect(pointer(['m~n'])).toBe('/m~0n');
    expect(pointer([])).toBe('');
    expect(pointer(['wires', 3, 'from'])).toBe('/wires/3/from');
  });
});
