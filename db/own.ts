import { mayAs } from './keys.ts';
import type { Ctx } from './club.ts';
import { Forbidden } from './errors.ts';
import { SEEN_BY, type SeenBy } from './schema/columns.ts';

export { SEEN_BY };

/** What members have of their own: looms, quotes and stock. */

interface Owned {
  ownerId: string | null;
  private: boolean;
}

export function seenByOf(row: { private: boolean }): SeenBy {
  return row.private ? 'owner' : 'club';
}

/** Whose a new thing is and who sees it. Error: Forbidden where nobody is there to see it alone. */
export function ownedBy(ctx: Ctx, seenBy: SeenBy = 'club'): Owned {
  const isPrivate = seenBy === 'owner';
  if (isPrivate && ctx.member === undefined)
    throw new Forbidden(
      'Your key belongs to no member, so nothing can be seen by its owner alone. Use a key of your own, or leave seenBy out.',
    );
  return { ownerId: ctx.member ?? null, private: isPrivate };
}

/** Error: Forbidden where a key with the role member is nobody’s, so that what it makes would be too. */
export function requireOwner(ctx: Ctx, many: 'looms' | 'stock'): void {
  if (mayAs(ctx.role, 'editor') || ctx.member !== undefined) return;
  throw new Forbidden(
    `With the role member you can keep ${many} of your own, but your key belongs to no member. Use a key of your own, or a key with the role editor.`,
  );
}

/** Error: Forbidden for what is another’s, where the caller is no editor. */
export function requireMayChange(
  ctx: Ctx,
  { what, many }: { what: string; many: 'looms' | 'stock' },
  { ownerId }: Pick<Owned, 'ownerId'>,
): void {
  if (mayAs(ctx.role, 'editor') || (ownerId !== null && ownerId === ctx.member)) return;
  throw new Forbidden(
    `The ${what} is not yours. With the role ${ctx.role} you can change ${many} of your own only. Ask an editor of your club.`,
  );
}

/** Error: Forbidden for whoever is not the owner. */
export function requireOwn(ctx: Ctx, what: string, { ownerId }: Pick<Owned, 'ownerId'>): void {
  if (ownerId !== null && ownerId === ctx.member) return;
  throw new Forbidden(
    ownerId === null
      ? `The ${what} belongs to the club and to no member, so the club sees it. Only something of your own can be seen by you alone.`
      : `Only the owner of the ${what} can say who sees it.`,
  );
}
