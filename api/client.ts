import { createReadStream, statSync } from 'node:fs';
import { Readable } from 'node:stream';
import { printable } from '../worker/sheets/textTable.ts';
import type { Problem } from './http/problem.ts';

/** A caller of the API over HTTP, for the commands. Rejects with Refused where a call is refused, with Unreachable where none answers. */
export interface Caller {
  get(path: string): Promise<Response>;
  send(
    method: 'POST' | 'PUT',
    path: string,
    body: unknown,
    headers?: Record<string, string>,
  ): Promise<Response>;
  /** Posts a file as it is, without taking it into memory. */
  sendFile(path: string, file: string, type: string): Promise<Response>;
}

/** A call was refused; its message is the problem's, in words. */
export class Refused extends Error {
  readonly status: number;
  constructor(call: string, status: number, text: string) {
    super(inWords(text) ?? `${call} was answered with ${status}: ${printable(text.slice(0, 500))}`);
    this.status = status;
  }
}

/** A server does not answer, or what answers is no Loomwright. */
export class Unreachable extends Error {}

/** A problem document in words, without what a terminal would obey; undefined for another text. */
function inWords(text: string): string | undefined {
  let problem: Partial<Problem>;
  try {
    problem = JSON.parse(text) as Partial<Problem>;
  } catch {
    return undefined;
  }
  if (typeof problem.detail !== 'string') return undefined;
  const findings = (problem.findings ?? []).map(
    ({ where, found, todo }) => `${where}: found ${found}. ${todo}`,
  );
  return printable([problem.detail, ...findings].join(' '));
}

export function callerOf(url: string, key: string): Caller {
  const authorization = `Bearer ${key}`;
  const checked = async (path: string, init: RequestInit) => {
    const answer = await fetch(`${url}${path}`, init).catch(() => {
      throw new Unreachable(`No server answers at ${url}.`);
    });
    if (!answer.ok) throw new Refused(`${init.method ?? 'GET'} ${path}`, answer.status, await answer.text());
    return answer;
  };
  return {
    get: (path) => checked(path, { headers: { authorization } }),
    send: (method, path, body, headers = {}) =>
      checked(path, {
        method,
        headers: { authorization, 'content-type': 'application/json', ...headers },
        body: JSON.stringify(body),
      }),
    sendFile: (path, file, type) =>
      checked(path, {
        method: 'POST',
        headers: {
          authorization,
          'content-type': type,
          'content-length': String(statSync(file).size),
        },
        body: Readable.toWeb(createReadStream(file)) as ReadableStream<Uint8Array>,
        duplex: 'half',
      }),
  };
}
