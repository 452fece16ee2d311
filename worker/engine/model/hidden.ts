import { pointer, type Finding } from './finding.ts';
import { MOST_FINDINGS, withMore } from './mostFindings.ts';

/**
 * Characters that nobody sees and that change how a text is shown: those that Unicode calls controls of direction (property
 * Bidi_Control, UAX #9: U+061C, U+200E, U+200F, U+202A to U+202E, U+2066 to U+2069), and the controls C0 and C1 but for tab
 * and line ends. Names in Arabic or Hebrew need none of them: their letters have a direction of their own.
 */
const HIDDEN = /[\p{Bidi_Control}\u0001-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f]/u;
const ALL_HIDDEN = new RegExp(HIDDEN.source, 'gu');

/** Such a character as it is, or as an escape of JSON; a zero character or half of a surrogate pair comes only as an escape. */
const TELLTALE = new RegExp(
  `${HIDDEN.source}|\\\\[bf]|\\\\u(?:00(?:0[0-8bcef]|1[0-9a-f]|7f|[89][0-9a-f])|d[89a-f]|061c|200[ef]|202[a-e]|206[6-9])`,
  'iu',
);

/** Whether a text of JSON may hold such a character: a look at the text, before all of its values are looked at. */
export function mayHideCharacters(json: string): boolean {
  return TELLTALE.test(json);
}

/** A text for a sentence, short, with such characters as escapes. */
export function shown(text: string, most = 80): string {
  const short = text.length > most ? `${text.slice(0, most - 1)}…` : text;
  return JSON.stringify(short.toWellFormed()).replace(ALL_HIDDEN, escaped);
}

/** The same without quotes round it. */
export function bareShown(text: string, most = 80): string {
  return text.slice(0, most).toWellFormed().replace(ALL_HIDDEN, escaped).replaceAll('\0', '\\u0000');
}

const escaped = (character: string) => `\\u${hex(character)}`;
const hex = (character: string) => character.charCodeAt(0).toString(16).toUpperCase().padStart(4, '0');

/** No document of ours is nested deeper; what lies below is refused by its schema. */
const DEEPEST = 60;

/** Texts that no database stores, and texts with characters that nobody sees; of many the first, and how many more. */
export function textFaults(value: unknown, hidden: 'refused' | 'kept' = 'refused'): Finding[] {
  const found: Finding[] = [];
  let more = 0;
  walk(value, [], (path, text) => {
    const fault = faultOf(text, hidden);
    if (!fault) return true;
    if (found.length < MOST_FINDINGS) found.push(told(path, fault));
    else more++;
    return false;
  });
  return withMore(found, more);
}

/** Looks at all texts, keys too; what stands under a faulty key is not looked at. `path` is written over as it goes. */
function walk(
  value: unknown,
  path: PropertyKey[],
  look: (path: readonly PropertyKey[], text: string) => boolean,
): void {
  if (typeof value === 'string') look(path, value);
  else if (Array.isArray(value)) {
    if (path.length > DEEPEST) return;
    for (let at = 0; at < value.length; at++) {
      path.push(at);
      walk(value[at], path, look);
      path.pop();
    }
  } else if (typeof value === 'object' && value !== null) {
    if (path.length > DEEPEST) return;
    for (const key of Object.keys(value)) {
      path.push(key);
      if (look(path, key)) walk((value as Record<string, unknown>)[key], path, look);
      path.pop();
    }
  }
}

type TextFault = Pick<Finding, 'code' | 'found' | 'todo'>;

function faultOf(text: string, hidden: 'refused' | 'kept'): TextFault | undefined {
  if (text.includes('\0') || !text.isWellFormed())
    return {
      code: 'unstorable-text',
      found: 'a zero character or half of a surrogate pair',
      todo: 'Remove the character.',
    };
  return hidden === 'kept' ? undefined : hiddenIn(text);
}

/** What is wrong with a text that holds a character that nobody sees. */
export function hiddenIn(text: string): TextFault | undefined {
  const at = text.search(HIDDEN);
  if (at < 0) return undefined;
  const name = `U+${hex(text.charAt(at))}`;
  return {
    code: 'hidden-character',
    found: `${name} in ${shown(text)}`,
    todo: `Remove the character ${name}, or write this text again. It cannot be seen, and it can change how the text is shown.`,
  };
}

function told(path: readonly PropertyKey[], fault: TextFault): Finding {
  const words = path.map((key) => (typeof key === 'string' ? bareShown(key) : String(key)));
  return {
    severity: 'stop',
    at: pointer(path.map((key) => (typeof key === 'string' ? key.toWellFormed() : key))),
    where: words.join(', ') || 'the whole document',
    ...fault,
  };
}
