import { parseArgs, type ParseArgsConfig } from 'node:util';
import { editDistance, nearestName } from '../engine/model/nearest.ts';

/** A command was called with what it cannot use; the message says why, and how to call it. */
export class WrongCall extends Error {}

type Options = NonNullable<ParseArgsConfig['options']>;
type Values<T extends Options> = ReturnType<
  typeof parseArgs<{ args: string[]; options: T; allowPositionals: true }>
>['values'];

interface Command<T extends Options> {
  usage: string;
  options: T;
  /** The one thing that is named without a flag, with its article: "a job file". Where none is stated, nothing is. */
  names?: string;
}

type Asked<T extends Options> = { help: true } | { help: false; values: Values<T>; named: string };

/** What a command was called with; --help goes before all else. Throws WrongCall for what is unknown, missing or too much. */
export function readArguments<const T extends Options>(
  argv: readonly string[],
  { usage, options, names }: Command<T>,
): Asked<T> {
  if (argv.includes('--help') || argv.includes('-h')) return { help: true };
  const wrong = (why: string) => new WrongCall(`${why}\n\n${usage.trimEnd()}`);
  let parsed;
  try {
    parsed = parseArgs({ args: withNumbers(argv, options), options, allowPositionals: true });
  } catch (error) {
    throw wrong(inWords(error, Object.keys(options)));
  }
  for (const [name, value] of Object.entries(parsed.values))
    if (value === '') throw wrong(`--${name} needs a value after it.`);
  const [named, ...more] = parsed.positionals;
  if (names === undefined) {
    if (named !== undefined) throw wrong(`${named} has no flag before it. This command takes only flags.`);
    return { help: false, values: parsed.values, named: '' };
  }
  if (named === undefined) throw wrong(`Name ${names}.`);
  if (more.length > 0) throw wrong(`Name one ${names.replace(/^an? /, '')}. Remove ${more.join(', ')}.`);
  return { help: false, values: parsed.values, named };
}

/** A number below 0 after a flag is its value, which Node takes for a flag: "--hour-worth -1" as "--hour-worth=-1". */
function withNumbers(argv: readonly string[], options: Options): string[] {
  const joined: string[] = [];
  for (const word of argv) {
    const flag = joined.at(-1) ?? '';
    if (/^-\d/.test(word) && options[flag.replace(/^--/, '')]?.type === 'string')
      joined[joined.length - 1] = `${flag}=${word}`;
    else joined.push(word);
  }
  return joined;
}

/** What Node has against the flags, in plain words. */
function inWords(error: unknown, known: readonly string[]): string {
  const { code, message } = error as { code?: string; message: string };
  const flag = /'(?:-\w, )?(--?[^' ]+)/.exec(message)?.[1] ?? '';
  if (code === 'ERR_PARSE_ARGS_UNKNOWN_OPTION') return `There is no flag ${flag}.${meant(flag, known)}`;
  if (code !== 'ERR_PARSE_ARGS_INVALID_OPTION_VALUE') return message;
  return message.includes('does not take') ? `${flag} takes no value.` : `${flag} needs a value after it.`;
}

/** The flag that was likely meant: no more than two characters away. */
function meant(flag: string, known: readonly string[]): string {
  const flags = known.map((name) => `--${name}`);
  const nearest = nearestName(flag, flags);
  return nearest !== undefined && editDistance(flag, nearest) <= 2 ? ` Did you mean ${nearest}?` : '';
}
