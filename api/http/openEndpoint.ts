import type { Context } from 'hono';
import { checked, jsonOf, readBytes, requireJson } from './body.ts';
import type { Deps, Env } from './deps.ts';
import {
  answerOf,
  idempotencyKey,
  refuseQuery,
  refuseUnacceptable,
  respond,
  UNUSABLE,
  type OpenEndpoint,
} from './endpoint.ts';
import { addressOfCaller } from './keys.ts';

/** What anybody may send is read here, not in a thread. */
const MOST_BYTES = 32 * 1024;

/** Runs one request of nobody known through an endpoint: its body is small, and nothing is kept to be answered again. */
export async function runOpen(endpoint: OpenEndpoint, c: Context<Env>, deps: Deps): Promise<Response> {
  refuseQuery(c.req.query());
  refuseUnacceptable(endpoint, c.req.header('accept'));
  idempotencyKey(c, false);
  let body: unknown;
  if (endpoint.body) {
    requireJson(c);
    const bytes = await readBytes(c.req.raw, Math.min(MOST_BYTES, deps.limits.bodyBytes), () => undefined);
    body = checked(endpoint.body, jsonOf(bytes), UNUSABLE);
  }
  const { now, newId } = deps;
  const base = { requestId: c.get('requestId'), now, newId };
  const address = addressOfCaller(c, deps.limits.trustedProxies);
  c.set('stage', 'maybe');
  const reply = await endpoint.open({ body, base, address } as Parameters<OpenEndpoint['open']>[0], deps);
  await reply.after?.();
  return respond(endpoint, answerOf(reply), c);
}
