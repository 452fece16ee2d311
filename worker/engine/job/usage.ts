import { canonicalJson } from '../model/canonical.ts';
import { byCode } from '../model/code.ts';
import { pointer } from '../model/finding.ts';
import { Job } from '../model/job.ts';
import type { NotYetUsed } from '../model/result.ts';
import { schemaTree, type SchemaTree } from './schemaTree.ts';
import { USAGE, type Usage } from './usageTable.ts';

/** A schema's tree with what the table says of each place that it names. */
interface UsageNode {
  entry: { path: string; usage: Usage } | undefined;
  tree: SchemaTree;
  below: Map<string, UsageNode>;
}

/** "parts[kind=wire].size" → parts, [kind=wire], size */
function tokens(path: string): string[] {
  return path.match(/\[[^\]]*\]|[^.[\]]+/g) ?? [];
}

const ENTRIES = USAGE.map(([path, usage]) => ({ path, usage, tokens: tokens(path) }));

/** Whether an entry names exactly this place. `[]` names the entries of a list whatever their shape. */
function names(entry: readonly string[], place: readonly string[]): boolean {
  return (
    entry.length === place.length &&
    entry.every((token, index) => token === place[index] || (token === '[]' && place[index]?.startsWith('[')))
  );
}

function annotate(tree: SchemaTree, place: string[]): UsageNode {
  const entry = ENTRIES.find((candidate) => names(candidate.tokens, place));
  const below = new Map<string, UsageNode>();
  for (const [key, token, inner] of inside(tree)) below.set(key, annotate(inner, [...place, ...token]));
  return { entry, tree, below };
}

/** The places one level below: the key by which data finds them, the token that names them, their tree. */
function inside(tree: SchemaTree): [key: string, token: string[], inner: SchemaTree][] {
  switch (tree.type) {
    case 'leaf':
      return [];
    case 'object':
      return [...tree.fields].map(([name, field]) => [name, [name], field.tree]);
    case 'oneOf':
      return [...tree.shapes].map(([shape, inner]) => [shape, [shapeToken(tree.by, shape)], inner]);
    case 'list':
      return tree.item.type === 'oneOf' ? [['', [], tree.item]] : [['', ['[]'], tree.item]];
  }
}

const shapeToken = (by: string | undefined, shape: string) => `[${by === undefined ? '' : `${by}=`}${shape}]`;

let jobTree: UsageNode | undefined;
const usageOfJob = () => (jobTree ??= annotate(schemaTree(Job), []));

/** What was stated in a job beyond the defaults, but took no part in its quote. By field. */
export function notYetUsed(job: Job): NotYetUsed[] {
  const found = new Map<string, NotYetUsed>();
  visit(usageOfJob(), job, undefined, [], found);
  return [...found.values()].sort((a, b) => byCode(a.field, b.field));
}

function visit(
  node: UsageNode,
  value: unknown,
  fallback: unknown,
  at: PropertyKey[],
  found: Map<string, NotYetUsed>,
): void {
  if (value === undefined) return;
  if (node.entry) {
    if (node.entry.usage === 'notYet' && says(value, fallback)) {
      const { path } = node.entry;
      const known = found.get(path);
      if (known) known.count++;
      else found.set(path, { field: path, count: 1, first: pointer(at) });
    }
    return;
  }
  const below = (key: string, inner: unknown, innerFallback: unknown, path: PropertyKey[]) => {
    const next = node.below.get(key);
    if (next) visit(next, inner, innerFallback, path, found);
  };
  switch (node.tree.type) {
    case 'leaf':
      return;
    case 'object':
      for (const [name, field] of node.tree.fields)
        below(name, (value as Record<string, unknown>)[name], field.fallback, [...at, name]);
      return;
    case 'list':
      (value as unknown[]).forEach((item, index) => below('', item, undefined, [...at, index]));
      return;
    case 'oneOf': {
      const shape = node.tree.by === undefined ? undefined : (value as Record<string, unknown>)[node.tree.by];
      if (typeof shape === 'string') below(shape, value, undefined, at);
    }
  }
}

/** An empty list says nothing, and nor does what the schema would have filled in. */
function says(value: unknown, fallback: unknown): boolean {
  if (Array.isArray(value) && value.length === 0) return false;
  return fallback === undefined || canonicalJson(value) !== canonicalJson(fallback);
}

/** Every leaf of the job's schema with the entries of the table that cover it: one each, or the table is wrong. */
export function coverage(): { leaf: string; entries: string[] }[] {
  const leaves: { leaf: string; entries: string[] }[] = [];
  const walk = (tree: SchemaTree, place: string[]) => {
    const next = inside(tree);
    for (const [, token, inner] of next) walk(inner, [...place, ...token]);
    if (next.length > 0) return;
    const entries = ENTRIES.filter(
      ({ tokens: entry }) => entry.length <= place.length && names(entry, place.slice(0, entry.length)),
    );
    leaves.push({ leaf: place.join('.').replaceAll('.[', '['), entries: entries.map(({ path }) => path) });
  };
  walk(schemaTree(Job), []);
  return leaves;
}
