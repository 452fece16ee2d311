import type { MiddlewareHandler } from 'hono';
import { keyOfSecret, ROLES, type Role } from '../../db/keys.ts';
import type { Deps, Env } from './deps.ts';
import { HttpProblem } from './problem.ts';

const SECRET = /^Bearer (lw_[A-Za-z0-9_-]{43})$/;

/** Finds out whose key a request carries. Problem: 401, the same for a missing, a malformed and an unknown key. */
export function authenticate(deps: Deps): MiddlewareHandler<Env> {
  return async (c, next) => {
    const secret = SECRET.exec(c.req.header('authorization') ?? '')?.[1];
    const key = secret === undefined ? undefined : await keyOfSecret(deps.database, secret);
    if (!key)
      throw new HttpProblem(
        'unauthorized',
        'The request has no key, or the key is not valid: it is incomplete, or it was revoked. Send a key of your club as Authorization: Bearer lw_…',
        { headers: { 'www-authenticate': 'Bearer realm="loomwright"' } },
      );
    c.set('ctx', {
      club: key.clubId,
      actor: `key:${key.id}`,
      role: key.role,
      requestId: c.get('requestId'),
      now: deps.now,
      newId: deps.newId,
    });
    await next();
  };
}

/** Problem: 403 where the key's role is below the one needed. */
export function requireRole(role: Role, needed: Role): void {
  if (ROLES.indexOf(role) < ROLES.indexOf(needed))
    throw new HttpProblem(
      'forbidden',
      `This needs a key with the role ${needed}. Your key has the role ${role}. Ask an admin of your club for another key.`,
    );
}
