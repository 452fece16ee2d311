import type { Ctx } from './club.ts';
import { Forbidden } from './errors.ts';
import type { Standing } from './schema/columns.ts';

/** Whether someone with this role only proposes: an editor confirms. */
export const onlyProposes = ({ role }: Pick<Ctx, 'role'>): boolean => role === 'member' || role === 'viewer';

export const standingOf = (ctx: Ctx): Standing => (onlyProposes(ctx) ? 'proposed' : 'confirmed');

/** Error: Forbidden where a member would change what is confirmed, or what somebody else put in. */
export function requireOwnProposal(
  ctx: Ctx,
  what: string,
  row: { standing: Standing; createdBy: string | null },
): void {
  if (!onlyProposes(ctx) || (row.standing === 'proposed' && row.createdBy === ctx.actor)) return;
  throw new Forbidden(
    row.standing === 'proposed'
      ? `Somebody else proposed the ${what}. A member changes only their own proposals. Ask an editor of your club.`
      : `The ${what} is confirmed. A member changes only their own proposals, and only until an editor confirms them. Ask an editor of your club.`,
  );
}
