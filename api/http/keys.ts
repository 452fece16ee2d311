import type { Context, MiddlewareHandler } from 'hono';
import { ROLES, type Role } from '../../db/keys.ts';
import type { Deps, Env } from './deps.ts';
import { addressOf } from './limits/address.ts';
import { HttpProblem } from './problem.ts';

const SECRET = /^Bearer (lw_[A-Za-z0-9_-]{43})$/;

/** Finds out whose key a request carries. Problems: 401, 429 as the gate has them. */
export function authenticate(deps: Deps): MiddlewareHandler<Env> {
  return async (c, next) => {
    const secret = SECRET.exec(c.req.header('authorization') ?? '')?.[1];
    const key = await deps.gate.enter(secret, addressOfCaller(c, deps.limits.trustedProxies));
    c.set('ctx', {
      club: key.clubId,
      ...(key.memberId === null
        ? { actor: `key:${key.id}` }
        : { actor: `member:${key.memberId}`, member: key.memberId }),
      key: key.id,
      role: key.role,
      requestId: c.get('requestId'),
      now: deps.now,
      newId: deps.newId,
    });
    await next();
  };
}

/** Undefined where the request came over no socket. */
export function addressOfCaller(c: Context<Env>, trustedProxies: number): string | undefined {
  const env = c.env as { incoming?: { socket: { remoteAddress?: string } } } | undefined;
  return addressOf(env?.incoming?.socket.remoteAddress, c.req.header('x-forwarded-for'), trustedProxies);
}

/** Problem: 403 where the key's role is below the one needed. */
export function requireRole(role: Role, needed: Role): void {
  if (ROLES.indexOf(role) < ROLES.indexOf(needed))
    throw new HttpProblem(
      'forbidden',
      `This needs a key with the role ${needed}. Your key has the role ${role}. Ask an admin of your club for another key.`,
    );
}
