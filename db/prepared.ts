import type postgres from 'postgres';
import type { Opening } from './scope.ts';

/** Longer texts are lists of rows, of which hardly two are alike. */
const LONGEST = 2_000;
const MOST_PARAMETERS = 12;
/** What each connection keeps on the server, so that it stays bounded. */
const MOST_TEXTS = 300;

type Unsafe = postgres.Sql['unsafe'];
type Begin = (...args: unknown[]) => unknown;
interface Scope {
  unsafe: Unsafe;
  savepoint?: Begin;
}

/**
 * The client for Drizzle, with statements kept on their connection once they were sent: Drizzle has every statement with
 * parameters read and described again before each use, which is a trip to the server more. Statements with many
 * parameters are sent as before, and new ones when many are kept already. What `opening` holds goes with the next BEGIN.
 */
export function preparing(client: postgres.Sql, opening: Opening): postgres.Sql {
  openingWith(client, opening);
  const texts = new Set<string>();

  function worthKeeping(text: string, parameters: readonly unknown[]): boolean {
    if (texts.has(text)) return true;
    if (texts.size >= MOST_TEXTS || text.length > LONGEST || parameters.length > MOST_PARAMETERS)
      return false;
    texts.add(text);
    return true;
  }

  const unsafeOf =
    (scope: Scope): Unsafe =>
    (text, parameters = [], options = {}) =>
      scope.unsafe(text, parameters, {
        ...options,
        prepare: parameters.length > 0 && worthKeeping(text, parameters),
      });

  /** Its last argument is what is done in the scope. */
  const within =
    (open: Begin): Begin =>
    (...args) => {
      const work = args.pop() as (scope: Scope) => unknown;
      return open(...args, (scope: Scope) => work(keeping(scope)));
    };

  // Made on top of the original, which goes on as it was: it sends BEGIN by its own `unsafe`.
  const keeping = <S extends Scope>(scope: S): S =>
    Object.create(scope, {
      unsafe: { value: unsafeOf(scope) },
      ...(scope.savepoint ? { savepoint: { value: within(scope.savepoint) } } : {}),
    }) as S;

  return Object.create(keeping(client), {
    begin: { value: within(client.begin.bind(client) as unknown as Begin) },
  }) as postgres.Sql;
}

/**
 * The client sends BEGIN by its own `unsafe`. Should the statement that goes with it fail, the connection is left in a
 * transaction that does nothing, which the server ends with the connection.
 */
function openingWith(client: postgres.Sql, opening: Opening): void {
  const plain: Unsafe = client.unsafe.bind(client);
  const opened: Unsafe = (text, ...rest) => {
    const { statement } = opening;
    if (statement === undefined || !text.startsWith('begin')) return plain(text, ...rest);
    opening.statement = undefined;
    return plain(`${text};${statement}`, ...rest);
  };
  client.unsafe = opened;
}
