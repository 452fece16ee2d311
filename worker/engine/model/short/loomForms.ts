import { several, wrong, type Reading, type ShortContext, type ShortForm } from './form.ts';
import { decimalOf, decimalText } from './numbers.ts';

/** An end: "headlamp.2" is way 2 of point headlamp; "headlamp" the point alone. */
export const endForm: ShortForm = { examples: ['headlamp.2', 'headlamp'], read: readEnd };

/**
 * Codes may hold dots, so a text may be a point as it stands, or a point and a way at any of its dots: the loom's own points
 * settle it. Where it has none of them, the last dot parts the two.
 */
function readEnd(given: string, { points }: ShortContext): Reading {
  const text = given.trim();
  const dots = [...text.matchAll(/\./g)].map(({ index }) => index);
  const parted = dots.map((at) => ({ point: text.slice(0, at), way: text.slice(at + 1).trim() }));
  const all = [{ point: text }, ...parted.filter(({ point, way }) => point !== '' && way !== '')];
  const known = all.filter(({ point }) => points?.has(point));
  if (known.length > 1)
    return {
      code: 'two-readings',
      readings: known.map(endWords),
      todo: `"${text}" can be read as ${known.map(endWords).join(' or ')}. Give the end as an object with point and way`,
    };
  return { value: known[0] ?? all.at(-1) };
}

const endWords = (end: { point: string; way?: string }) =>
  end.way === undefined ? `the point ${end.point}` : `way ${end.way} of the point ${end.point}`;

/** A part used at a place: "ring-6-15". */
export const partUseForm: ShortForm = {
  examples: ['ring-6-15'],
  read: (given) => ({ value: { part: given.trim() } }),
};

const BASES = { 'tip to tip': 'tipToTip', 'sheath to sheath': 'sheathToSheath', route: 'route' } as const;

/** A length: "620" mm along its route, "620 tip to tip", "1.2 m". */
export const lengthForm: ShortForm = {
  examples: ['620', '620 tip to tip', '1.2 m'],
  read: (given, context) => {
    const match = /^([\d.,]+) ?(mm|cm|m)?(?:,? (tip to tip|sheath to sheath|route))?$/i.exec(
      given.trim().replace(/\s+/g, ' '),
    );
    const value = match && decimalOf(match[1] ?? '', context);
    if (!match || !value)
      return wrong(
        `A length is written as in "620" (mm), "1.2 m" or "620 tip to tip"; "${given}" is none${inches(given)}`,
      );
    const unit = (match[2] ?? 'mm').toLowerCase();
    const rest = given.trim().slice((match[1] ?? '').length);
    if (typeof value !== 'string')
      return several(
        given,
        value.several.map((each) => decimalText(each, context) + rest),
      );
    const times = unit === 'm' ? 1000 : unit === 'cm' ? 10 : 1;
    const basis = BASES[(match[3] ?? 'route').toLowerCase() as keyof typeof BASES];
    return { value: { mm: Math.round(Number(value) * times * 1e6) / 1e6, basis } };
  },
};

const MM_PER_INCH = 25.4;

/** The millimetres of a length in inches: "24.5 in", "24 1/2\"". */
function inches(given: string): string {
  const match = /^(\d+(?:\.\d+)?)(?: (\d+)\/(\d+))? ?(?:in|inch|inches|")$/i.exec(given.trim());
  if (!match) return '';
  const [, whole, over = '0', under = '1'] = match;
  const value = Number(whole) + Number(over) / Number(under);
  return Number.isFinite(value) ? `. In millimetres it is "${Math.round(value * MM_PER_INCH)}"` : '';
}

/** A fuse: what it carries ("15 A continuous") or what blows it ("35 A blow"): a bare figure does not say which. */
export const fuseForm: ShortForm = {
  examples: ['15 A continuous', '35 A blow'],
  read: (given, context) => {
    const match = /^([\d.,]+) ?A?(?:,? (continuous(?:ly)?|blow(?:s|ing)?))?$/i.exec(given.trim());
    const amps = match && decimalOf(match[1] ?? '', context);
    if (!match || typeof amps !== 'string')
      return wrong(`A fuse is written as in "15 A continuous" or "35 A blow"; "${given}" is neither`);
    if (match[2] === undefined)
      return several(given, [
        `${decimalText(amps, context)} A continuous`,
        `${decimalText(amps, context)} A blow`,
      ]);
    const basis = match[2].toLowerCase().startsWith('c') ? 'continuous' : 'blow';
    return { value: { ratingAmps: Number(amps), basis } };
  },
};

/** A functional length: "0.9 ohm" of a resistor wire, "150 mm fixed" of a fusible link. */
export const functionForm: ShortForm = {
  examples: ['0.9 ohm', '150 mm fixed'],
  read: (given, context) => {
    const match = /^([\d.,]+) ?(ohms?|Ω|mm|mm fixed|fixed mm)$/i.exec(given.trim());
    const value = match && decimalOf(match[1] ?? '', context);
    if (!match || typeof value !== 'string')
      return wrong(`A functional length is written as in "0.9 ohm" or "150 mm fixed"; "${given}" is neither`);
    return /mm/i.test(match[2] ?? '')
      ? { value: { fixedMm: Number(value) } }
      : { value: { targetOhm: Number(value) } };
  },
};

/** The other half: "P7" of this loom, "main/P7" of another. */
export const mateForm: ShortForm = {
  examples: ['P7', 'main/P7'],
  read: (given) => {
    const parts = given.trim().split('/');
    const [first = '', second] = parts;
    return {
      value: second === undefined ? { point: first } : { loom: first, point: parts.slice(1).join('/') },
    };
  },
};

export const endShort = ({ point, way }: { point: string; way?: string | undefined }) =>
  way === undefined ? point : `${point}.${way}`;

export function lengthShort({ mm, basis }: { mm: number; basis: keyof typeof BASE_WORDS }): string {
  return basis === 'route' ? `${mm}` : `${mm} ${BASE_WORDS[basis]}`;
}
const BASE_WORDS = { tipToTip: 'tip to tip', sheathToSheath: 'sheath to sheath', route: 'route' } as const;

export const fuseShort = (
  { ratingAmps, basis }: { ratingAmps: number; basis: string },
  context: ShortContext,
) => `${decimalText(ratingAmps, context)} A ${basis}`;
