/** Where a text stops being JSON, counted from 1, and what stands there. */
export interface JsonFault {
  line: number;
  column: number;
  found: string;
}

const SPACE = /[ \t\n\r]*/y;
const STRING = /"(?:[^"\\\u0000-\u001f]|\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4}))*"/y;
const SCALAR = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?(?![\w.])|true\b|false\b|null\b/y;

/**
 * The first place at which a text is not JSON by RFC 8259; undefined where it is. Node says where only in some of its
 * messages, so this reads the text itself, without recursion.
 */
export function jsonFault(text: string): JsonFault | undefined {
  const at = firstFault(text);
  if (at === undefined) return undefined;
  const before = text.slice(0, at);
  const line = before.split('\n').length;
  return {
    line,
    column: at - before.lastIndexOf('\n'),
    found: at >= text.length ? 'the end of the file' : JSON.stringify(text.slice(at, at + 20).split('\n')[0]),
  };
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
      if (!take(STRING)) return at;
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
    } else if (take(STRING) || take(SCALAR)) expect = 'commaOrEnd';
    else return at;
  }
}
