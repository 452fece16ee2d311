import { colourWords, type Colour } from '../model/colour.ts';
import type { Part } from '../model/part.ts';
import type { Size } from '../model/size.ts';
import { tradeLabel } from '../trade/wireSizes.ts';

type Keys<T> = T extends unknown ? keyof T : never;

/** What names a part or says what it goes with, weighs or needs beside it: no figure that a place is held to. */
type NoFigure =
  | 'code'
  | 'description'
  | 'maker'
  | 'makerCode'
  | 'numbers'
  | 'family'
  | 'standsInFor'
  | 'weightG'
  | 'gramsPerM'
  | 'note'
  | 'mates'
  | 'worksFamilies'
  | 'forLooms'
  | 'shortensTo';

type Figure = Exclude<Keys<Part>, NoFigure>;

/** How each figure of a part is said: its words, and the unit behind it. */
const WORDS: Record<Figure, readonly [word: string, unit?: string]> = {
  kind: ['kind'],
  cableType: ['cable type'],
  size: ['size'],
  colour: ['colour'],
  cores: ['cores'],
  screened: ['screened'],
  terminalType: ['type'],
  sleeveType: ['type'],
  tapeType: ['type'],
  coverType: ['type'],
  joinerType: ['type'],
  deviceType: ['type'],
  fittingType: ['type'],
  gender: ['gender'],
  housingGender: ['gender of the housing'],
  contactGender: ['gender of the contacts'],
  join: ['made for'],
  sizeMm: ['hole or size', 'mm'],
  ways: ['ways'],
  positions: ['places for wires'],
  sealed: ['sealed'],
  wireMinMm2: ['wire from', 'mm²'],
  wireMaxMm2: ['wire to', 'mm²'],
  insulationMinMm: ['insulation from', 'mm'],
  insulationMaxMm: ['insulation to', 'mm'],
  cavityMm: ['cavity', 'mm'],
  boreMm: ['bore', 'mm'],
  recoveredBoreMm: ['bore after shrinking', 'mm'],
  wallMm: ['wall', 'mm'],
  holdsMinMm: ['holds from', 'mm'],
  holdsMaxMm: ['holds to', 'mm'],
  restDiameterMm: ['diameter when not opened', 'mm'],
  braidAngleDeg: ['angle of the threads', '°'],
  lengthwiseChangePercent: ['change in length', '%'],
  outsideDiameterMm: ['outside diameter', 'mm'],
  panelHoleMm: ['hole in the panel', 'mm'],
  widthMm: ['width', 'mm'],
  thicknessMm: ['thickness', 'mm'],
  stretchPercent: ['stretch', '%'],
  shade: ['colour'],
  ratedAmps: ['rated', 'A'],
  fuseBasis: ['rated by'],
  resistanceOhm: ['resistance', 'Ω'],
  tolerancePercent: ['tolerance', '%'],
  resistanceMilliohmPerM: ['resistance', 'mΩ/m'],
  temperatureMaxC: ['highest temperature', '°C'],
  madeForEarth: ['made for earth'],
  pins: ['pins'],
  stripMm: ['strip length', 'mm'],
  tailMm: ['tail', 'mm'],
  redoMm: ['lost in remaking an end', 'mm'],
};

/**
 * The figures that two parts both state and that differ, in words: "hole or size 4.2 mm, not 6.4 mm". The first is the part
 * that is bought.
 */
export function differingFigures(bought: Part, named: Part): string[] {
  return FIGURES.flatMap((figure) => {
    const [ours, theirs] = [stated(bought, figure), stated(named, figure)];
    if (ours === undefined || theirs === undefined) return [];
    const [other, own] = [said(ours), said(theirs)];
    if (other === own) return [];
    const [word, unit] = WORDS[figure];
    const behind = unit === undefined ? '' : ` ${unit}`;
    return [`${word} ${other}${behind}, not ${own}${behind}`];
  });
}

const FIGURES = Object.keys(WORDS) as Figure[];

type Core = { size: Size; colour: Colour };
type Value = number | string | boolean | Size | Colour | readonly (string | Core)[];

function stated(part: Part, figure: Figure): Value | undefined {
  return (part as Partial<Record<Figure, Value>>)[figure];
}

/** One of the words that a part's field allows; a cable type is the user's own word, and seldom written so. */
const CHOICE = /^[a-z]+([A-Z][a-z]+)+$/;

/** "fuseHolder": "fuse holder" */
function inWords(choice: string): string {
  return choice.replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`);
}

function said(value: Value): string {
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (typeof value === 'number') return String(value);
  if (typeof value === 'string') return CHOICE.test(value) ? inWords(value) : value;
  if ('system' in value) return tradeLabel(value);
  if ('base' in value) return colourWords(value);
  return value
    .map((each) => (typeof each === 'string' ? each : `${tradeLabel(each.size)} ${colourWords(each.colour)}`))
    .join(' and ');
}
