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
