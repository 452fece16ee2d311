import type { z } from 'zod';
import { exampleText, schemaAt } from './examples.ts';
import { pointer, type Finding } from './finding.ts';
import { notGathered } from './gathered.ts';
import { bareShown, shown } from './hidden.ts';
import { MOST_FINDINGS, tooManyFaults, withMore } from './mostFindings.ts';

/**
 * The faults that zod found, as findings: where by pointer and in words, what was found, how to fix it. With the schema
 * that the input was read by, what has the wrong shape is shown an example of the right one. Of many faults the first
 * MOST_FINDINGS are told, and how many more there are.
 */
export function faultsOf(error: z.ZodError, input: unknown, schema?: z.core.$ZodType): Finding[] {
  const placed: Placed[] = [];
  let more = 0;
  for (const issue of error.issues) more += notGathered(issue) ?? flatten(issue, [], placed);
  const told = placed.map(({ issue, path }) => toFinding(issue, asSent(path, input), input, schema));
  return Number.isNaN(more) ? [...told, tooManyFaults()] : withMore(told, more);
}

/** The path as far as the document as sent has it: what is inside a short form is told at that. */
function asSent(path: PropertyKey[], input: unknown): PropertyKey[] {
  for (let length = 1; length < path.length; length++) {
    const value = valueAt(input, path.slice(0, length));
    if (typeof value === 'string' || typeof value === 'number') return path.slice(0, length);
  }
  return path;
}

/** What was sent, in the type that is asked for: 0.42 where a text is, "620" where a number is. */
function ownExample(issue: z.core.$ZodIssue, sent: unknown): string | undefined {
  if (issue.code !== 'invalid_type') return undefined;
  if (issue.expected === 'string' && typeof sent === 'number') return JSON.stringify(`${sent}`);
  const isNumber = issue.expected === 'number' || issue.expected === 'int';
  if (!isNumber || typeof sent !== 'string' || sent.trim() === '') return undefined;
  const value = Number(sent.trim());
  return Number.isFinite(value) ? `${issue.expected === 'int' ? Math.round(value) : value}` : undefined;
}

interface Placed {
  issue: z.core.$ZodIssue;
  path: PropertyKey[];
}

/**
 * Unknown keys are one fault each; a union's fault is that of the branch that came nearest. Adds to `placed` while there is
 * room, and tells how many faults found none.
 */
function flatten(issue: z.core.$ZodIssue, base: PropertyKey[], placed: Placed[]): number {
  const path = [...base, ...issue.path];
  if (issue.code === 'unrecognized_keys') {
    const room = MOST_FINDINGS - placed.length;
    for (const key of issue.keys.slice(0, room)) placed.push({ issue, path: [...path, key] });
    return Math.max(0, issue.keys.length - room);
  }
  if (issue.code === 'invalid_union' && issue.errors.length > 0) {
    const nearest = issue.errors.reduce((best, branch) => (branch.length < best.length ? branch : best));
    if (nearest.length > 0) return nearest.reduce((more, inner) => more + flatten(inner, path, placed), 0);
  }
  if (placed.length >= MOST_FINDINGS) return 1;
  placed.push({ issue, path });
  return 0;
}

function toFinding(
  issue: z.core.$ZodIssue,
  path: PropertyKey[],
  input: unknown,
  schema: z.core.$ZodType | undefined,
): Finding {
  const example = () => {
    const own = ownExample(issue, valueAt(input, path));
    if (own !== undefined) return own;
    const there = schema && schemaAt(schema, path, input);
    return there && exampleText(there);
  };
  const { code, todo, limit } = isMissing(issue, path, input)
    ? missing(issue, path, example())
    : explain(issue, path, example);
  return {
    code,
    severity: 'stop',
    at: pointer(path),
    where: inWords(path, input),
    found: show(valueAt(input, path)),
    ...(limit === undefined ? {} : { limit }),
    todo,
  };
}

const OF_SHAPE: readonly z.core.$ZodIssue['code'][] = ['invalid_type', 'invalid_value', 'invalid_union'];

/** Whether the fault is that a field of an object is not there. */
function isMissing(issue: z.core.$ZodIssue, path: readonly PropertyKey[], input: unknown): boolean {
  const name = path.at(-1);
  if (typeof name !== 'string' || !OF_SHAPE.includes(issue.code)) return false;
  const object = valueAt(input, path.slice(0, -1));
  return (
    typeof object === 'object' && object !== null && (object as Record<string, unknown>)[name] === undefined
  );
}

function missing(issue: z.core.$ZodIssue, path: readonly PropertyKey[], example: string | undefined) {
  const { todo, limit } = explain(issue, path, () => example);
  return {
    code: 'missing-field',
    limit,
    todo: `The field ${nameOf(path)} is missing. ${todo}`,
  };
}

function explain(
  issue: z.core.$ZodIssue,
  path: readonly PropertyKey[],
  example: () => string | undefined,
): { code: string; todo: string; limit?: string } {
  switch (issue.code) {
    case 'unrecognized_keys':
      return {
        code: 'unknown-field',
        todo: `There is no field ${nameOf(path)} here. Remove it, or correct its name.`,
      };
    case 'invalid_type':
      return {
        code: 'wrong-type',
        limit: issue.expected,
        todo: `Give ${article(issue.expected)} here${suchAs(example())}.`,
      };
    case 'too_small':
      return {
        code: 'too-small',
        limit: `${issue.inclusive === false ? 'above' : 'at least'} ${String(issue.minimum)}`,
        todo: `Give ${sized(issue, 'at least', Number(issue.minimum))}.`,
      };
    case 'too_big':
      return {
        code: 'too-big',
        limit: `at most ${String(issue.maximum)}`,
        todo: `Give ${sized(issue, 'at most', Number(issue.maximum))}.`,
      };
    case 'invalid_value':
      return {
        code: 'not-one-of',
        limit: issue.values.map(String).join(', '),
        todo: `Give one of: ${issue.values.map(String).join(', ')}.`,
      };
    case 'invalid_format':
      return { code: 'wrong-form', todo: sentence(issue.message) };
    case 'invalid_union':
      return { code: 'not-one-of', todo: sentence(`${unionHint(issue)}${suchAs(example())}`) };
    case 'custom':
      return { code: customCode(issue), ...readingsOf(issue), todo: sentence(issue.message) };
    case 'not_multiple_of':
    case 'invalid_key':
    case 'invalid_element':
      return { code: 'not-valid', todo: sentence(issue.message) };
  }
}

/** The last name of a path, for a sentence. */
const nameOf = (path: readonly PropertyKey[]) => bareShown(String(path.at(-1)));

const suchAs = (example: string | undefined) => (example === undefined ? '' : `, such as ${example}`);

function unionHint(issue: z.core.$ZodIssueInvalidUnion): string {
  const options = (issue as { options?: unknown[] }).options;
  return options
    ? `${issue.discriminator ?? 'it'} is one of: ${options.map(String).join(', ')}`
    : issue.message;
}

function customCode(issue: z.core.$ZodIssueCustom): string {
  const code: unknown = issue.params?.['code'];
  return typeof code === 'string' ? code : 'not-valid';
}

/** The ways in which a text could be read. */
function readingsOf(issue: z.core.$ZodIssueCustom): { limit?: string } {
  const readings: unknown = issue.params?.['readings'];
  return Array.isArray(readings) ? { limit: `one of: ${readings.map(String).join(' | ')}` } : {};
}

const ARTICLES: Record<string, string> = {
  int: 'a whole number',
  number: 'a number',
  string: 'a text in quotes',
  array: 'a list',
  object: 'an object',
  boolean: 'true or false',
};

const article = (expected: string) => ARTICLES[expected] ?? expected;

function sized(issue: { origin: string; inclusive?: boolean }, word: string, limit: number): string {
  const than = issue.inclusive === false ? (word === 'at least' ? 'more than' : 'less than') : word;
  if (issue.origin === 'string') return `a text of ${than} ${limit} characters`;
  if (issue.origin === 'array') return `${than} ${limit} ${limit === 1 ? 'entry' : 'entries'}`;
  return `a number of ${than} ${limit}`;
}

function sentence(message: string): string {
  const text = message.charAt(0).toUpperCase() + message.slice(1);
  return /[.!?]$/.test(text) ? text : `${text}.`;
}

/** The value at a path, or undefined. */
function valueAt(input: unknown, path: readonly PropertyKey[]): unknown {
  let value = input;
  for (const key of path) {
    if (typeof value !== 'object' || value === null || !Object.hasOwn(value, key)) return undefined;
    value = (value as Record<PropertyKey, unknown>)[key];
  }
  return value;
}

/** A short rendering of what was found. */
function show(value: unknown): string {
  if (value === undefined) return 'nothing';
  if (Array.isArray(value)) return `a list of ${value.length}`;
  if (typeof value === 'object' && value !== null)
    return `an object with ${firstKeys(value).join(', ') || 'nothing in it'}`;
  return typeof value === 'string' ? shown(value, 118) : JSON.stringify(value);
}

function firstKeys(value: object): string[] {
  return Object.keys(value)
    .slice(0, 8)
    .map((key) => bareShown(key));
}

/** A path in plain words: the things along it by the name that the user gave them. "wire W3, from, point". */
function inWords(path: readonly PropertyKey[], input: unknown): string {
  const words: string[] = [];
  path.forEach((key, index) => {
    if (typeof key !== 'number') {
      if (typeof path[index + 1] !== 'number') words.push(bareShown(String(key)));
      return;
    }
    const list = String(path[index - 1] ?? 'entry');
    const singular = list === 'branches' ? 'branch' : list.replace(/s$/, '');
    const item = valueAt(input, path.slice(0, index + 1));
    const name =
      typeof item === 'object' && item !== null
        ? ((item as { id?: unknown; code?: unknown }).id ?? (item as { code?: unknown }).code)
        : undefined;
    words.push(`${singular} ${typeof name === 'string' ? bareShown(name) : `number ${key + 1}`}`);
  });
  return words.join(', ') || 'the whole document';
}
