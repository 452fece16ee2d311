import type { Hono } from 'hono';
import { gunzipSync } from 'node:zlib';
import { expect } from 'vitest';
import type { Env } from '../../api/http/deps.ts';
import { answerChecker, type AnswerChecker } from './answerChecker.ts';

export interface Got {
  status: number;
  headers: Headers;
  text: string;
  /** As they came: packed, where that was asked for. */
  bytes: Uint8Array;
  /** The body as JSON; throws where it is none. */
  json: <T = Record<string, unknown>>() => T;
}

interface Send {
  headers?: Record<string, string>;
  /** Sent as JSON; a string or bytes as they stand. */
  body?: unknown;
}

/** Calls the app as a client would. Every answer is checked against the OpenAPI document that the app serves. */
export interface Client {
  with(headers: Record<string, string>): Client;
  send(method: string, path: string, send?: Send): Promise<Got>;
  get(path: string, headers?: Record<string, string>): Promise<Got>;
  post(path: string, body: unknown, headers?: Record<string, string>): Promise<Got>;
  put(path: string, body: unknown, headers?: Record<string, string>): Promise<Got>;
  delete(path: string, headers?: Record<string, string>): Promise<Got>;
}

export async function clientOf(app: Hono<Env>): Promise<Client> {
  const document: unknown = await (await app.request('/openapi.json')).json();
  return client(app, answerChecker(document), {});
}

function client(app: Hono<Env>, checker: AnswerChecker, standing: Record<string, string>): Client {
  async function send(method: string, path: string, { headers = {}, body }: Send = {}): Promise<Got> {
    const response = await app.request(path, {
      method,
      headers: {
        ...(body === undefined ? {} : { 'content-type': 'application/json' }),
        ...standing,
        ...headers,
      },
      ...(body === undefined
        ? {}
        : { body: typeof body === 'string' || body instanceof Uint8Array ? body : JSON.stringify(body) }),
    });
    const bytes = new Uint8Array(await response.arrayBuffer());
    const isPacked = response.headers.get('content-encoding') === 'gzip' && bytes.byteLength > 0;
    const text = new TextDecoder().decode(isPacked ? gunzipSync(bytes) : bytes);
    const got = {
      status: response.status,
      headers: response.headers,
      text,
      bytes,
      json: <T>() => JSON.parse(text) as T,
    };
    expect(checker(method, path, got)).toEqual([]);
    return got;
  }
  return {
    with: (headers) => client(app, checker, { ...standing, ...headers }),
    send,
    get: (path, headers = {}) => send('GET', path, { headers }),
    post: (path, body, headers = {}) => send('POST', path, { headers, body }),
    put: (path, body, headers = {}) => send('PUT', path, { headers, body }),
    delete: (path, headers = {}) => send('DELETE', path, { headers }),
  };
}
