import { fuseShort, lengthForm } from '../../engine/model/short/loomForms.ts';
import { sizeLabel } from '../../engine/model/size.ts';
import { valueAt, type Column } from '../column.ts';
import { colour, listShort, mateShort } from './short.ts';
import { form, id, loom, mm, note, number, options, present, supply, text, word, yesNo } from './words.ts';

/** The short form of a part's use holds its code; where the part comes from stands beside it. */
const use = (side: string, what: string, says: string, more: Partial<Column> = {}): Column[] => [
  text(`${side} ${what}`, [side, what, 'part'], says, more),
  supply(`${side} ${what} supply`, [side, what, 'supply']),
];

function end(side: 'from' | 'to'): Column[] {
  const where = side === 'from' ? 'begins' : 'ends';
  return [
    text(
      side,
      [side, 'point'],
      `The point at which the wire ${where}, and its way after a dot: headlamp.2.`,
      {
        needed: true,
        also: [`${side} point`],
        example: side === 'from' ? 'ammeter' : 'joiner.tail',
      },
    ),
    text(`${side} way`, [side, 'way'], 'The way or terminal marking of the point.', {
      also: [`${side} pin`],
    }),
    word(
      `${side} join`,
      [side, 'join'],
      'crimp, solder, joint or bare. Empty: as the terminal is; without one by the kind of point.',
    ),
    ...use(side, 'terminal', 'The code of the terminal at this end.', {
      example: side === 'from' ? 'ring-m6-1.5' : 'bullet-4.7-1',
    }),
    ...use(side, 'cover', 'The code of the cover over the terminal.'),
    ...use(side, 'seal', 'The code of the seal.'),
    ...use(side, 'label', 'The code of the label.'),
    mm(`${side} strip mm`, [side, 'stripMm'], 'Insulation stripped here. Empty: by the settings.'),
    mm(`${side} tail mm`, [side, 'tailMm'], 'Tail left here. Empty: by the settings.'),
    text(
      `${side} shares terminal`,
      [side, 'sharesTerminal'],
      'Ends of one point with the same word here share one terminal.',
    ),
    yesNo(
      `${side} finished in vehicle`,
      [side, 'terminateInVehicle'],
      'yes: this end is finished in the vehicle, after threading.',
    ),
  ];
}

const length = (says: string): Column[] => [
  mm('length mm', ['length', 'mm'], says, {
    also: ['length'],
    example: '620',
    whole: lengthForm,
  }),
  word('length basis', ['length', 'basis'], 'tip to tip, sheath to sheath or route. Empty: route.', {
    also: ['basis'],
    otherwise: (document) => (valueAt(document, ['length', 'mm']) === undefined ? undefined : 'route'),
  }),
  word('measured', ['length', 'measured'], 'What the length is from: old loom, string on vehicle or book.'),
  mm('± mm', ['length', 'plusMinusMm'], 'How far off the length may be.', {
    also: ['plus minus mm', '+- mm', '+/- mm'],
  }),
];

const via = form('via', ['via'], 'The branches along which it runs, in order.', {
  short: listShort,
  example: 'B1',
});

export const WIRES: readonly Column[] = [
  loom,
  id('wire', 'The name of the wire.', { example: 'W1' }),
  text(
    'cable type',
    ['cableType'],
    'The make-up of the wire, in your words: thin-wall, pvc. Equal words are equal wire. Empty: the setting “usual cable type”.',
    {
      also: ['type'],
      example: 'thin-wall',
    },
  ),
  form('size', ['size'], 'As it is marked: 1.5 mm², 44/0.30, 14/.012, 16 AWG.', {
    needed: true,
    short: sizeLabel,
    example: '14/0.30',
  }),
  form(
    'colour',
    ['colour'],
    'Base and tracer: green/white, or the letters of the loom’s colour system: GW.',
    {
      needed: true,
      also: ['color'],
      example: 'green/white',
      ...colour(['letters', 'seen']),
    },
  ),
  text(
    'colour letters',
    ['colour', 'letters'],
    'Base and tracer in the letters of the loom’s colour system, as they stand.',
  ),
  text('colour seen', ['colour', 'seen'], 'What you saw on the old wire.'),
  ...end('from'),
  ...end('to'),
  ...length('The length of the wire; its basis may stand with it: 620 tip to tip. Empty: by the branches.'),
  via,
  number('amps', ['amps'], 'The current that it carries.', { unit: 'A', example: '8' }),
  form(
    'fuse',
    ['fuse'],
    'The fuse before it, and what it carries or what blows it: 15 A continuous, 35 A blow.',
    {
      short: fuseShort,
      example: '15 A continuous',
    },
  ),
  number('ohm target', ['function', 'targetOhm'], 'A resistor wire: the ohms that it must have.', {
    unit: 'ohm',
  }),
  mm('fixed mm', ['function', 'fixedMm'], 'A fusible link: its length, which is not rounded.'),
  text('circuit', ['circuit'], 'The name of its circuit.'),
  text('in cable', ['inCable'], 'The cable of which it is a core.'),
  text('twisted with', ['twistedWith'], 'The wire with which it is twisted.'),
  options,
  supply(),
  word(
    'colour rule',
    ['colourRule'],
    'What is bought where the colour cannot be had: exact, next size up, plain base with tracer sleeve or ask.',
  ),
  note,
];

export const POINTS: readonly Column[] = [
  loom,
  id('point', 'The name of the point.', { example: 'joiner' }),
  word('kind', ['kind'], 'connector, device, stud, joiner, joint, flying lead or breakout.', {
    needed: true,
    example: 'joiner',
  }),
  text('label', ['label'], 'What it is, in your words.', { example: 'Joiner, behind the seat' }),
  text('part', ['part'], 'The code of the part that is there.'),
  supply('supply', ['supply'], 'buy; a device: as the setting “device supply” says (reuse)'),
  text(
    'supplied by loom',
    ['suppliedByLoom'],
    'The loom for which its part is bought, where two looms meet here.',
  ),
  number('ways', ['ways'], 'How many ways it has.'),
  form('pins', ['pins'], 'Its terminal markings.', { short: listShort, example: 'tail, stop' }),
  mm('stud mm', ['studMm'], 'The diameter of the stud over its thread.'),
  form(
    'mated to',
    ['matedTo'],
    'The point of the other half that is plugged in here: P7, or rear/P7 of another loom.',
    {
      short: mateShort,
    },
  ),
  present('feed', ['feed'], 'yes: current comes into the loom here.'),
  form('feed ways', ['feed', 'ways'], 'Current comes in at these ways. Empty: at all.', { short: listShort }),
  form('feed fuse', ['feed', 'fuse'], 'The fuse before the feed, outside this loom. Empty: none.', {
    short: fuseShort,
  }),
  options,
];

export const BRANCHES: readonly Column[] = [
  loom,
  id('branch', 'The name of the branch.', { example: 'B1' }),
  text('from', ['from'], 'The point at which it begins.', { needed: true, example: 'ammeter' }),
  text('to', ['to'], 'The point at which it ends.', { needed: true, example: 'joiner' }),
  mm('length mm', ['lengthMm'], 'Its length.', { needed: true, also: ['length'], example: '620' }),
  options,
];

export const COVERINGS: readonly Column[] = [
  loom,
  id('covering', 'The name of the covering.', { example: 'C1' }),
  word('kind', ['kind'], 'braided, pvc, heat shrink, tape, conduit or other.', {
    words: { heatshrink: 'heatShrink' },
    needed: true,
    example: 'braided',
  }),
  form('over', ['over'], 'The branches that it covers, in order.', { short: listShort, example: 'B1' }),
  text('part', ['part'], 'The code of the part. Empty: it is chosen to fit.'),
  word('shade', ['shade'], 'Where it is chosen: only of this shade.', { also: ['colour'] }),
  supply(),
  mm('length mm', ['lengthMm'], 'Its finished length, where no branches are named.', { also: ['length'] }),
  text('outer', ['outer'], 'The covering that lies over this one.'),
  mm('overlap start mm', ['overlapStartMm'], 'How far it lies beyond the first branch.'),
  mm('overlap end mm', ['overlapEndMm'], 'How far it lies beyond the last branch.'),
  options,
];

export const CABLES: readonly Column[] = [
  loom,
  id('cable', 'The name of the cable. Its wires name it under “in cable”.', { example: 'K1' }),
  text('part', ['part'], 'The code of the part.'),
  ...length('The length of the cable; its basis may stand with it: 620 tip to tip. Empty: by the branches.'),
  via,
  supply(),
  options,
];

export const FITTINGS: readonly Column[] = [
  loom,
  text('part', ['part'], 'The code of the part.', { needed: true, example: 'grommet-20-14' }),
  number('quantity', ['quantity'], 'How many. Empty: 1.', { example: '2' }),
  text('branch', ['branch'], 'The branch on which it sits.', { example: 'B1' }),
  mm('at mm', ['atMm'], 'How far from the branch’s first point.', { example: '80' }),
  text('threaded before', ['threadedBefore'], 'What must not be on yet when it is threaded.'),
  supply(),
  options,
];

export const EXTRAS: readonly Column[] = [
  loom,
  text('part', ['part'], 'The code of the part.', { needed: true, example: 'tie-150' }),
  number('quantity', ['quantity'], 'How many.', { needed: true, example: '20' }),
  supply(),
  note,
  options,
];
