import { readdirSync, readFileSync } from 'node:fs';
import ts from 'typescript';

const root = new URL('../../', import.meta.url);

export const read = (file: string): string => readFileSync(new URL(file, root), 'utf8');

/** The TypeScript files of a folder and its folders, by their paths from the root. */
export function sourcesIn(folder: string): string[] {
  return readdirSync(new URL(`${folder}/`, root), { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.ts'))
    .map((name) => `${folder}/${name}`)
    .sort();
}

/** The texts of two words or more in a source's string literals; what a template puts in is not read. */
export function textsIn(source: string): string[] {
  const texts: string[] = [];
  const visit = (node: ts.Node): void => {
    if (ts.isImportDeclaration(node) || ts.isLiteralTypeNode(node)) return;
    if (ts.isStringLiteralLike(node) || ts.isTemplateHead(node) || ts.isTemplateMiddleOrTemplateTail(node))
      texts.push(node.text);
    ts.forEachChild(node, visit);
  };
  visit(ts.createSourceFile('', source, ts.ScriptTarget.Latest));
  return texts.filter(isProse);
}

/** Of two words or more: a single one is a name in the code. */
function isProse(text: string): boolean {
  return /\p{L}\s|\s\p{L}/u.test(text);
}

/** Every text of two words or more in a document of JSON. */
export function textsOf(value: unknown): string[] {
  if (typeof value === 'string') return [value].filter(isProse);
  return typeof value === 'object' && value !== null ? Object.values(value).flatMap(textsOf) : [];
}

/** The first cells of a table's rows. */
export function firstCells(table: string): string[] {
  return [...table.matchAll(/^\| ([^|]*?) +\|/gm)].map(([, cell = '']) => cell).slice(2);
}

/** Finds in a text the first of the words, in any of its endings. Names in code marks are not read. */
export function finderOf(words: readonly string[]): (text: string) => string | undefined {
  const any = new RegExp(`(?<![\\w-])(${words.join('|')})(s|ed|ing)?(?![\\w-])`, 'i');
  return (text) => any.exec(text.replaceAll(/`[^`]*`/g, ' '))?.[0];
}
