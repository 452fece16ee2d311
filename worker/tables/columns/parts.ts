import type { ForLoom } from '../../engine/model/part.ts';
import { numbersShort } from '../../engine/model/short/numbersForm.ts';
import { sizeLabel } from '../../engine/model/size.ts';
import type { Column } from '../column.ts';
import { colour, listShort } from './short.ts';
import { code, form, mm, note, number, percent, text, word, yesNo } from './words.ts';

const amount = (unit: string) => ({ unit });

/** All kinds of part in one table: the sentence begins with the kinds that have the column, where not all do. */
export const PARTS: readonly Column[] = [
  code('A short name of your choice.', { also: ['part'], example: 'ring-6' }),
  word(
    'kind',
    ['kind'],
    'wire, cable, sleeve, tape, terminal, seal, housing, cover, boot, joiner, device, fitting, consumable, tool or made up loom.',
    {
      needed: true,
      example: 'terminal',
    },
  ),
  text('description', ['description'], 'What it is, in your words.', {
    needed: true,
    also: ['name'],
    example: 'Ring terminal for a 6 mm stud',
  }),
  text('maker', ['maker'], 'Who makes it.'),
  text('maker code', ['makerCode'], 'The maker’s own code.'),
  form('numbers', ['numbers'], 'Others’ numbers: whose, then the number.', {
    short: numbersShort,
    also: ['other numbers'],
    example: 'Wrenfield 20 41 77-33; Osterby 8-113',
  }),
  text('family', ['family'], 'The family of parts that only work together.'),
  form('stands in for', ['standsInFor'], 'What it may stand in for.'),
  number('weight g', ['weightG'], 'The weight of one.', amount('g')),
  text('cable type', ['cableType'], 'Wire, cable: the make-up, in the words of your wires.'),
  form('size', ['size'], 'Wire: 1.5 mm², 44/0.30, 14/.012, 16 AWG.', { short: sizeLabel }),
  form('colour', ['colour'], 'Wire: base and tracer, as green/white.', {
    also: ['color'],
    ...colour(['seen']),
  }),
  text('colour seen', ['colour', 'seen'], 'Wire: the colour in your own words.'),
  mm('outside diameter mm', ['outsideDiameterMm'], 'Wire, cable: over the insulation.'),
  number('resistance milliohm per m', ['resistanceMilliohmPerM'], 'Wire: its resistance.'),
  number('temperature max c', ['temperatureMaxC'], 'Wire: how warm it may be.', {
    ...amount('°C'),
    also: ['temperature max °c'],
  }),
  number(
    'rated amps',
    ['ratedAmps'],
    'Wire, terminal, device: the current for which it is made.',
    amount('A'),
  ),
  number('grams per m', ['gramsPerM'], 'Wire, cable, sleeve, tape: the weight of a metre.', amount('g')),
  form('cores', ['cores'], 'Cable: the size and colour of each core.'),
  yesNo('screened', ['screened'], 'Cable: yes or no.'),
  word('sleeve type', ['sleeveType'], 'Sleeve: braided, pvc, heat shrink, conduit, spiral or other.', {
    words: { heatshrink: 'heatShrink' },
  }),
  word('shade', ['shade'], 'Sleeve, tape, cover: its shade.'),
  mm('bore mm', ['boreMm'], 'Sleeve, boot, fitting: the bore; of heat shrink as supplied.'),
  mm('recovered bore mm', ['recoveredBoreMm'], 'Sleeve: heat shrink after it is shrunk.'),
  mm('wall mm', ['wallMm'], 'Sleeve: the thickness of its wall.'),
  mm('holds from mm', ['holdsMinMm'], 'Sleeve: the smallest bundle that it holds.'),
  mm('holds to mm', ['holdsMaxMm'], 'Sleeve: the largest bundle that it holds.'),
  mm('rest diameter mm', ['restDiameterMm'], 'Sleeve: the diameter of a braid as it lies.'),
  number(
    'braid angle deg',
    ['braidAngleDeg'],
    'Sleeve: the angle of the threads of a braid to its length.',
    amount('°'),
  ),
  percent(
    'lengthwise change %',
    ['lengthwiseChangePercent'],
    'Sleeve: how much longer it gets; a minus: shorter.',
  ),
  form('shortens to', ['shortensTo'], 'Sleeve: what 100 mm of braid becomes when it is opened.'),
  word('tape type', ['tapeType'], 'Tape: adhesive, non adhesive, cloth or other.'),
  mm('width mm', ['widthMm'], 'Tape: its width.'),
  mm('thickness mm', ['thicknessMm'], 'Tape: its thickness.'),
  percent('stretch %', ['stretchPercent'], 'Tape: how far it is stretched.'),
  word(
    'terminal type',
    ['terminalType'],
    'Terminal: bullet, blade, ring, spade, pin, ferrule, splice, battery or other.',
    { example: 'ring' },
  ),
  word('gender', ['gender'], 'Terminal: male, female or none.'),
  word('join', ['join'], 'Terminal: crimp, solder or either.'),
  number('wire from mm²', ['wireMinMm2'], 'Terminal: the smallest wire that it takes.', {
    ...amount('mm²'),
    also: ['wire from mm2'],
  }),
  number('wire to mm²', ['wireMaxMm2'], 'Terminal: the largest wire that it takes.', {
    ...amount('mm²'),
    also: ['wire to mm2'],
  }),
  mm('insulation from mm', ['insulationMinMm'], 'Terminal, seal: the thinnest wire, over its insulation.'),
  mm('insulation to mm', ['insulationMaxMm'], 'Terminal, seal: the thickest wire, over its insulation.'),
  mm('size mm', ['sizeMm'], 'Terminal, joiner: the blade’s width, the bullet’s diameter or the ring’s hole.'),
  mm('strip mm', ['stripMm'], 'Terminal: how far the wire is stripped.'),
  mm('tail mm', ['tailMm'], 'Terminal: the tail that it asks.'),
  mm('remaking mm', ['redoMm'], 'Terminal: what an end loses when it is made again.', {
    also: ['redo mm'],
  }),
  mm('cavity mm', ['cavityMm'], 'Seal: the diameter of its cavity.'),
  number('ways', ['ways'], 'Housing: how many ways it has.'),
  word('housing gender', ['housingGender'], 'Housing: plug, socket or none.'),
  word('contact gender', ['contactGender'], 'Housing: male, female or none.'),
  form('mates', ['mates'], 'Housing: the housings with which it mates.', { short: listShort }),
  yesNo('sealed', ['sealed'], 'Housing: yes or no.'),
  word('cover type', ['coverType'], 'Cover: terminal cover, backshell, dust cap or other.'),
  word('joiner type', ['joinerType'], 'Joiner: sleeve, block, splice or other.'),
  number('positions', ['positions'], 'Joiner: how many bullets or wires it takes.'),
  word(
    'device type',
    ['deviceType'],
    'Device: fuse holder, fuse, relay, flasher, diode, resistor, lamp, switch, ammeter, electronics or other.',
  ),
  form('pins', ['pins'], 'Device: its terminal markings.', { short: listShort }),
  word('made for earth', ['madeForEarth'], 'Device: negative, positive or either.'),
  word('fuse basis', ['fuseBasis'], 'Device: a fuse is rated continuous or blow.'),
  number('resistance ohm', ['resistanceOhm'], 'Device: its resistance.', amount('ohm')),
  percent('tolerance %', ['tolerancePercent'], 'Device: by how much its resistance may differ.'),
  word('fitting type', ['fittingType'], 'Fitting: grommet, clip, label, tie or other.'),
  mm('panel hole mm', ['panelHoleMm'], 'Fitting: the hole in the panel.'),
  form('works families', ['worksFamilies'], 'Tool: the families that it works.', { short: listShort }),
  form('for looms', ['forLooms'], 'Made up loom: the looms in whose place it can be bought.', {
    short: (looms: readonly ForLoom[], context) =>
      listShort(
        looms.filter((one) => typeof one === 'string'),
        context,
      ),
  }),
  note,
];
