import type { Finding } from './finding.ts';
import { textFaults, mayHideCharacters, shown } from './hidden.ts';
import { jsonFault, lineAndColumn, type JsonFault } from './jsonFault.ts';
import { scanJson, type JsonLimits, type JsonPlace } from './jsonScan.ts';
import { MOST_FINDINGS, withMore } from './mostFindings.ts';

/** A job file or a body: what of ours is nested deepest has half of it. */
export const JSON_DEPTH = 40;

/** What came of a text of JSON: its value, why it is none, why it is not even read, or what of it cannot be used. */
export type ReadJson =
  | { value: unknown }
  | { empty: true }
  | { notJson: JsonFault }
  | { tooMany: { line: number; column: number; most: number } }
  | { findings: Finding[] };

/**
 * The value of a text of JSON. Refused: what JSON.parse refuses; what is nested deeper or holds more values than the limits,
 * before anything of it is built; an object that has a key twice (RFC 8259 leaves open which one counts); and texts with
 * characters that cannot be stored or that nobody sees. What was stored before these were refused still has to be read:
 * `kept`.
 */
export function readJson(
  text: string,
  limits: JsonLimits,
  { hidden = 'refused' }: { hidden?: 'refused' | 'kept' } = {},
): ReadJson {
  const scan = scanJson(text, limits, MOST_FINDINGS);
  if (scan.found === 'tooMany')
    return { tooMany: { ...lineAndColumn(text, scan.place.offset), most: limits.values } };
  if (scan.found === 'tooDeep') return { findings: [tooDeep(text, scan.place, limits.depth)] };
  if (scan.found === 'tooManyKeys') return { findings: [tooManyKeys(text, scan.place, limits.keys ?? 0)] };
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    const fault = /\S/.test(text) ? jsonFault(text) : undefined;
    return fault ? { notJson: fault } : { empty: true };
  }
  if (scan.found === 'duplicates')
    return {
      findings: withMore(
        scan.places.map((place) => duplicate(text, place)),
        scan.count - scan.places.length,
      ),
    };
  if (!mayHideCharacters(text)) return { value };
  const findings = textFaults(value, hidden);
  return findings.length > 0 ? { findings } : { value };
}

const placed = (text: string, { offset }: JsonPlace) => {
  const { line, column } = lineAndColumn(text, offset);
  return `line ${line}, column ${column}`;
};

function duplicate(text: string, place: JsonPlace & { key: string }): Finding {
  const key = shown(place.key);
  return {
    code: 'duplicate-key',
    severity: 'stop',
    at: place.at,
    where: placed(text, place),
    found: `the key ${key} a second time in one object`,
    limit: 'each key once',
    todo: `Keep one of the two. Remove the other one, or correct its name.`,
  };
}

function tooManyKeys(text: string, place: JsonPlace, most: number): Finding {
  return {
    code: 'too-many-fields',
    severity: 'stop',
    at: place.at,
    where: placed(text, place),
    found: `an object of more than ${most} fields`,
    limit: `at most ${most}`,
    todo: 'Remove what does not belong here. Nothing in Loomwright has so many fields.',
  };
}

function tooDeep(text: string, place: JsonPlace, depth: number): Finding {
  return {
    code: 'too-deep',
    severity: 'stop',
    at: place.at,
    where: placed(text, place),
    found: `more than ${depth} lists and objects in one another`,
    limit: `at most ${depth}`,
    todo: 'Remove what is nested deeper. Nothing in Loomwright is nested so deep.',
  };
}
