import { describe, expect, test } from 'vitest';
import { foundIn, connector, housingOf, inTerminal, sealOf, terminalOf, told, wireOf } from './told.ts';

const seal = { insulationMinMm: 1.6, insulationMaxMm: 2.1 };
const sealed = (more: object = {}) => inTerminal('t', { seal: { part: 's' }, ...more });
const parts = (outsideMm: number, figures: object = seal) => [
  wireOf(outsideMm),
  terminalOf('t'),
  sealOf('s', figures),
  housingOf('h', { sealed: true }),
];
const at = { part: 'h' };

describe('the range of a seal', () => {
  const of = (outsideMm: number, figures: object = seal) =>
    told(connector(parts(outsideMm, figures), [sealed()], at), 'seal-range');

  test('holds what lies on its limits, and is told of what lies beyond', () => {
    expect(of(1.6)).toEqual([]);
    expect(of(2.1)).toEqual([]);
    expect(of(1.59)).toEqual(['seal-range wire:W1:from']);
    expect(of(2.11)).toEqual(['seal-range wire:W1:from']);
    expect(of(2.11, {})).toEqual([]);
  });

  test('stops the reader, with the part that the diameter was read from', () => {
    expect(foundIn(connector(parts(2.4), [sealed()], at), 'seal-range')).toMatchObject([
      {
        severity: 'stop',
        at: '/looms/0/wires/0/from/seal/part',
        found: '2.4 mm over the insulation (part red), in s',
        limit: '1.6 to 2.1 mm',
      },
    ]);
  });
});

test('a seal on a terminal that two wires share is told once, and a seal of its own on each is not', () => {
  const shared = (ends: object[]) => told(connector(parts(2), ends, at), 'seal-shared', 'seal-range');
  expect(shared([sealed({ sharesTerminal: 'x' }), { sharesTerminal: 'x' }])).toEqual([
    'seal-shared wire:W1:from',
  ]);
  expect(shared([sealed({ sharesTerminal: 'x' }), sealed({ sharesTerminal: 'x' })])).toHaveLength(1);
  expect(shared([sealed({ sharesTerminal: 'x' }), sealed({ sharesTerminal: 'y' })])).toEqual([]);
});

test('an end without a seal is told in a sealed housing, and in no other', () => {
  const missing = (isSealed: boolean | undefined, ...ends: object[]) =>
    told(
      connector(
        [terminalOf('t'), sealOf('s'), housingOf('h', isSealed === undefined ? {} : { sealed: isSealed })],
        ends,
        at,
      ),
      'seal-missing',
    );
  expect(missing(true, sealed(), inTerminal('t'))).toEqual(['seal-missing wire:W2:from']);
  expect(missing(true, sealed(), sealed())).toEqual([]);
  expect(missing(true, sealed({ sharesTerminal: 'x' }), { sharesTerminal: 'x' })).toEqual([]);
  expect(missing(false, inTerminal('t'))).toEqual([]);
  expect(missing(undefined, inTerminal('t'))).toEqual([]);
});
