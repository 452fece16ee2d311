/** Where a text stops being JSON, counted from 1, and what stands there. */
export interface JsonFault {
  line: number;
  column: number;
  found: string;
}

const SPACE = /[ \t\n\r]*/y;
const PLAIN = /[^"\\\u0000-\u001f]+/y;
const ESCAPE = /\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4})/y;
const SCALAR = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?(?![\w.])|true\b|false\b|null\b/y;

/**
 * The first place at which a text is not JSON by RFC 8259; undefined where it is. Node says where only in some of its
 * messages, so this reads the text itself, without recursion.
 */
export function jsonFault(text: string): JsonFault | undefined {
  const at = firstFault(text);
  if (at === undefined) return undefined;
  return {
    ...lineAndColumn(text, at),
    found: at >= text.length ? 'the end of the file' : JSON.stringify(text.slice(at, at + 20).split('\n')[0]),
  };
}

/** Where an offset is in a text, counted from 1. */
export function lineAndColumn(text: string, offset: number): { line: number; column: number } {
  let line = 1;
  let start = 0;
  for (let end = text.indexOf('\n'); end >= 0 && end < offset; end = text.indexOf('\n', start)) {
    line++;
    start = end + 1;
  }
  return { line, column: offset - start + 1 };
}

type Expect = 'value' | 'valueOrEnd' | 'key' | 'keyOrEnd' | 'commaOrEnd';

function firstFault(text: string): number | undefined {
  const open: ('{' | '[')[] = [];
  let at = 0;
  const take = (pattern: RegExp): boolean => {
    pattern.lastIndex = at;
    const matched = pattern.exec(text);
    if (matched) at = pattern.lastIndex;
    return matched !== null;
  };
  // Piece by piece: one pattern for all of a long text would go beyond the stack.
  const takeText = (): boolean => {
    const start = at;
    if (!takeCharacter('"')) return false;
    while (take(PLAIN) || take(ESCAPE));
    if (takeCharacter('"')) return true;
    at = start;
    return false;
  };
  const takeCharacter = (character: string): boolean => {
    if (text[at] !== character) return false;
    at++;
    return true;
  };
  let expect: Expect = 'value';
  for (;;) {
    take(SPACE);
    const inside = open.at(-1);
    if (expect === 'commaOrEnd') {
      if (inside === undefined) return at === text.length ? undefined : at;
      if (takeCharacter(',')) expect = inside === '{' ? 'key' : 'value';
      else if (takeCharacter(inside === '{' ? '}' : ']')) open.pop();
      else return at;
    } else if (expect === 'key' || expect === 'keyOrEnd') {
      if (expect === 'keyOrEnd' && takeCharacter('}')) {
        open.pop();
        expect = 'commaOrEnd';
        continue;
      }
      if (!takeText()) return at;
      take(SPACE);
      if (!takeCharacter(':')) return at;
      expect = 'value';
    } else if (expect === 'valueOrEnd' && takeCharacter(']')) {
      open.pop();
      expect = 'commaOrEnd';
    } else if (takeCharacter('{')) {
      open.push('{');
      expect = 'keyOrEnd';
    } else if (takeCharacter('[')) {
      open.push('[');
      expect = 'valueOrEnd';
    } else if (takeText() || take(SCALAR)) expect = 'commaOrEnd';
    else return at;
  }
}
