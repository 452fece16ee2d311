import type { Ctx } from '../club.ts';

/** Looms and quotes that belong to a member, in an archive and in the club that it is read into. */

interface Owned {
  ownerId: string | null;
  private: boolean;
}

/** Whose an entry is, and whether nobody else sees it. */
export const ownedIn = (entry: { owner?: string | undefined; private?: true | undefined }): Owned => ({
  ownerId: entry.owner ?? null,
  private: entry.private === true,
});

/**
 * Whether another member alone sees something. It is then compared with all that its entry says, moments too: whoever can
 * say all of it has it already, and nobody learns by guessing what is in it.
 */
export const isHidden = (ctx: Ctx, row: Owned): boolean => row.private && row.ownerId !== ctx.member;
