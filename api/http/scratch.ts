import { createReadStream } from 'node:fs';
import { mkdtemp, open, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { chunksOf } from './chunks.ts';
import type { HttpProblem } from './problem.ts';

/** Works with a file in a folder that its owner alone can read, and that is gone afterwards. */
export async function withScratch<T>(work: (file: string) => Promise<T>): Promise<T> {
  const folder = await mkdtemp(join(tmpdir(), 'loomwright-'));
  try {
    return await work(join(folder, 'kept'));
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

/** Keeps a body in a file. Throws the problem where it has more bytes than allowed. */
export async function keepBody(
  request: Request,
  file: string,
  { most, tooLarge }: { most: number; tooLarge: (most: number) => HttpProblem },
): Promise<void> {
  if (Number(request.headers.get('content-length') ?? 0) > most) throw tooLarge(most);
  const kept = await open(file, 'wx', 0o600);
  try {
    let size = 0;
    for await (const chunk of chunksOf(request)) {
      size += chunk.byteLength;
      if (size > most) throw tooLarge(most);
      await kept.write(chunk);
    }
  } finally {
    await kept.close();
  }
}

/** A file as a body that can be read after its name is gone. */
export async function bodyOfFile(file: string): Promise<{ body: ReadableStream<Uint8Array>; bytes: number }> {
  const handle = await open(file, 'r');
  const { size } = await handle.stat();
  const stream = createReadStream('', { fd: handle });
  return { body: Readable.toWeb(stream) as ReadableStream<Uint8Array>, bytes: size };
}
