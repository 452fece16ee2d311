import { z } from 'zod';
import { ENTRY_TYPES } from '../../db/archive/entries.ts';
import { importClub, type Imported } from '../../db/archive/importClub.ts';
import { refuseDiffering } from '../archive/refuseDiffering.ts';
import { entriesOf } from '../archive/readArchive.ts';
import { writeArchive } from '../archive/writeArchive.ts';
import { packedTooLarge } from '../archive/lines.ts';
import { rawEndpoint, type RawEndpoint } from '../http/endpoint.ts';
import { bodyOfFile, keepBody, withScratch } from '../http/scratch.ts';
import { sendJson } from '../http/send.ts';
import { wakeFor } from '../http/wakeFor.ts';

const GZIP = 'application/gzip';

const ImportQuery = z.strictObject({
  preview: z
    .enum(['true', 'false'])
    .optional()
    .meta({ description: 'true: nothing is written, and what would come of it is told.' }),
});

export const ArchiveImport = z
  .strictObject({
    written: z.boolean().meta({ description: 'Whether the club has now all that the archive has.' }),
    types: z
      .array(
        z.strictObject({
          type: z.enum(ENTRY_TYPES as [string, ...string[]]),
          new: z.int().min(0),
          equal: z.int().min(0).meta({ description: 'There already, with the same content.' }),
          differs: z.int().min(0).meta({ description: 'There already, with another content.' }),
        }),
      )
      .meta({ description: 'How many entries of each type there are in the archive.' }),
    differing: z
      .array(z.strictObject({ line: z.int(), entry: z.string() }))
      .meta({ description: 'The first hundred that differ. While there are any, nothing is written.' }),
  })
  .meta({ id: 'ArchiveImport' });
export type ArchiveImport = z.infer<typeof ArchiveImport>;

function presentImport({ stands, types, differing }: Imported): ArchiveImport {
  return { written: stands, types, differing };
}

export const archiveRoutes: RawEndpoint[] = [
  rawEndpoint({
    method: 'get',
    path: '/v1/club/archive',
    tag: 'club',
    role: 'admin',
    summary: 'Export all that the club has, as one archive',
    description:
      'JSON lines, packed with gzip, as of one moment: a backup while the server runs. What members alone see is in it too; keys, invitations and e-mails are left out. docs/archive.md describes each line.',
    answers: { 200: { description: 'The archive.', bytesType: GZIP } },
    raw: async (c, { ctx }, { database, now }) => {
      const headers = {
        'content-type': GZIP,
        'content-disposition': `attachment; filename="club-${now().toISOString().slice(0, 10)}.jsonl.gz"`,
        'cache-control': 'private, no-store',
      };
      if (c.req.method === 'HEAD') return new Response(null, { headers });
      const { body, bytes } = await withScratch(async (file) => {
        await writeArchive(database, ctx, file);
        return bodyOfFile(file);
      });
      return new Response(body, { headers: { ...headers, 'content-length': String(bytes) } });
    },
  }),
  rawEndpoint({
    method: 'post',
    path: '/v1/club/archive',
    tag: 'club',
    role: 'admin',
    summary: 'Import an archive into the club',
    description:
      'Restores all of it into a club that has nothing yet; its name and keys stay. Into another it brings what is new, and only where all else is the same: 409 names what differs, and nothing is written. A second time all is the same, so the call takes no Idempotency-Key.',
    query: ImportQuery,
    once: false,
    bytesBody: GZIP,
    problems: ['conflict', 'malformed-request'],
    answers: { 200: { description: 'What came of it.', schema: ArchiveImport } },
    raw: async (c, { ctx, query }, deps) => {
      const preview = query.preview === 'true';
      const { archive: limits } = deps.limits;
      const imported = await withScratch(async (file) => {
        // First the whole body: a slow sender would hold the transaction.
        await keepBody(c.req.raw, file, { most: limits.packedBytes, tooLarge: packedTooLarge });
        return importClub(deps.database, ctx, { entries: entriesOf(file, limits), preview });
      });
      if (!preview) refuseDiffering(imported);
      for (const task of imported.waiting) await wakeFor(deps, task, ctx)();
      return sendJson(c, presentImport(imported));
    },
  }),
];
