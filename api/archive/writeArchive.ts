import { createHash } from 'node:crypto';
import { createWriteStream } from 'node:fs';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { createGzip } from 'node:zlib';
import { lineOf } from '../../db/archive/entries.ts';
import { exportClub } from '../../db/archive/exportClub.ts';
import { asClub, type ClubCtx, type Ctx } from '../../db/club.ts';
import { getClub } from '../../db/clubs.ts';
import type { Database } from '../../db/connect.ts';
import { ARCHIVE_FORMAT, ARCHIVE_VERSION, noneYet, type Header, type Trailer } from './frame.ts';

/** Characters that go to be packed at once. */
const PIECE = 64 * 1024;

/**
 * Writes all that a club has, also what members alone see, as of one moment, to a new file that its owner alone can read. Not
 * straight to whoever asked: a slow reader would hold the transaction, and an embedded database has no other.
 */
export function writeArchive(database: Database, base: ClubCtx, file: string): Promise<void> {
  return asClub(
    database,
    { ...base, whole: true },
    (ctx) =>
      pipeline(
        Readable.from(inPieces(archiveLines(ctx)), { objectMode: false }),
        createGzip(),
        createWriteStream(file, { flags: 'wx', mode: 0o600 }),
      ),
    { snapshot: true },
  );
}

async function* archiveLines(ctx: Ctx): AsyncGenerator<string> {
  const { name } = await getClub({ ctx });
  const header: Header = {
    format: ARCHIVE_FORMAT,
    version: ARCHIVE_VERSION,
    club: name,
    exportedAt: ctx.now().toISOString(),
  };
  yield JSON.stringify(header);
  const hash = createHash('sha256');
  const counts = noneYet();
  for await (const entry of exportClub({ ctx })) {
    const line = lineOf(entry);
    hash.update(line).update('\n');
    counts[entry.type]++;
    yield line;
  }
  const trailer: Trailer = { type: 'end', counts, sha256: hash.digest('hex') };
  yield JSON.stringify(trailer);
}

async function* inPieces(lines: AsyncIterable<string>): AsyncGenerator<string> {
  let piece = '';
  for await (const line of lines) {
    piece += `${line}\n`;
    if (piece.length < PIECE) continue;
    yield piece;
    piece = '';
  }
  if (piece !== '') yield piece;
}
