import { and, eq } from 'drizzle-orm';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { asClub, record, type ClubCtx, type Ctx } from '../../db/club.ts';
import { createLoom } from '../../db/looms.ts';
import { audit, loomRevisions, looms, members } from '../../db/schema/index.ts';
import { Loom } from '../../worker/engine/model/loom.ts';
import { loadSmall } from '../support/fixtures.ts';
import { openHouse, type TestClub, type TestHouse } from '../support/house.ts';

let house: TestHouse;
let club: TestClub;
let ada: ClubCtx;
let ben: ClubCtx;

async function joined(name: string): Promise<ClubCtx> {
  const id = await club.run(async (ctx) => {
    const id = ctx.newId();
    await ctx.tx.insert(members).values({ clubId: club.id, id, name, role: 'member', joinedAt: ctx.now() });
    return id;
  });
  return { ...club.ctx, whole: false, member: id, actor: `member:${id}` };
}

const codesSeenBy = (who: ClubCtx) =>
  asClub(house.database, who, async ({ tx }) => ({
    looms: (await tx.select({ code: looms.code }).from(looms)).map(({ code }) => code).sort(),
    revisions: (await tx.select({ code: loomRevisions.loomCode }).from(loomRevisions))
      .map(({ code }) => code)
      .sort(),
  }));

const closed = ({ tx, club: id }: Ctx, code: string) =>
  tx
    .update(looms)
    .set({ private: true })
    .where(and(eq(looms.clubId, id), eq(looms.code, code)))
    .returning({ code: looms.code });

beforeAll(async () => {
  house = await openHouse();
  club = await house.club();
  await loadSmall(await club.as('editor'));
  ada = await joined('Ada');
  ben = await joined('Ben');
  const input = Loom.parse({ code: 'own', name: 'Ada’s own', parts: [{ part: 'ring-6', quantity: 1 }] });
  await asClub(house.database, ada, async (ctx) => {
    await createLoom({ ctx, input });
    await closed(ctx, 'own');
  });
});
afterAll(() => house.close());

describe('a private loom', () => {
  test('is seen by its owner and by the service, with its revisions, and by nobody else of the club', async () => {
    const all = { looms: ['loom', 'own'], revisions: ['loom', 'own'] };
    const others = { looms: ['loom'], revisions: ['loom'] };
    expect(await codesSeenBy(ada)).toEqual(all);
    expect(await codesSeenBy(club.ctx)).toEqual(all);
    expect(await codesSeenBy(ben)).toEqual(others);
    expect(await codesSeenBy({ ...ben, member: undefined })).toEqual(others);
  });

  test('can be changed by nobody else, and nobody can take the club’s for another', async () => {
    await asClub(house.database, ben, async (ctx) => expect(await closed(ctx, 'own')).toEqual([]));
    const taken = asClub(house.database, ben, ({ tx }) =>
      tx
        .update(looms)
        .set({ ownerId: ada.member ?? null, private: true })
        .where(eq(looms.code, 'loom')),
    );
    await expect(taken).rejects.toMatchObject({ cause: { code: '42501' } });
  });
});

describe('the record', () => {
  test('shows a row that is private to a member to that member and to the service alone', async () => {
    await asClub(house.database, ada, (ctx) =>
      record(ctx, 'loom.revise', 'own/2', { after: { name: 'secret' }, privateTo: ada.member }),
    );
    const seenBy = (who: ClubCtx) =>
      asClub(house.database, who, ({ tx }) =>
        tx.select({ thing: audit.thing }).from(audit).where(eq(audit.subject, 'own/2')),
      );
    expect(await seenBy(ada)).toEqual([{ thing: 'loom:own' }]);
    expect(await seenBy(club.ctx)).toEqual([{ thing: 'loom:own' }]);
    expect(await seenBy(ben)).toEqual([]);
  });

  test('is only added to: no row of it is changed or removed, by whomever', async () => {
    const change = club.run(({ tx }) => tx.update(audit).set({ actor: 'somebody else' }));
    await expect(change).rejects.toMatchObject({ cause: { code: '23001' } });
    const remove = club.run(({ tx }) => tx.delete(audit));
    await expect(remove).rejects.toMatchObject({ cause: { code: '23001' } });
  });
});
