import { request } from 'node:http';
import { setTimeout as pause } from 'node:timers/promises';

/** What a server answered to bytes, read whole. */
export interface RawAnswer {
  status: number;
  type: string;
  bytes: number;
  text: string;
}

/** Sends bytes as they are; a connection that the server cuts counts as status 0. */
export function sendBytes(
  url: string,
  send: { method: string; headers: Record<string, string>; bytes: Buffer },
): Promise<RawAnswer> {
  return new Promise((resolve) => {
    const lost = (error: Error) => resolve({ status: 0, type: '', bytes: 0, text: error.message });
    const asked = request(url, { method: send.method, headers: send.headers, agent: false }, (answer) => {
      const chunks: Buffer[] = [];
      answer.on('data', (chunk: Buffer) => chunks.push(chunk));
      answer.on('error', lost);
      answer.on('end', () => {
        const all = Buffer.concat(chunks);
        resolve({
          status: answer.statusCode ?? 0,
          type: answer.headers['content-type'] ?? '',
          bytes: all.length,
          text: all.toString('utf8'),
        });
      });
    });
    asked.on('error', lost);
    asked.end(send.bytes);
  });
}

/** Asks a server over and over whether it lives while something is done, and tells the longest wait for an answer in ms. */
export async function askedMeanwhile<T>(
  url: string,
  work: () => Promise<T>,
): Promise<{ done: T; slowestMs: number; asked: number }> {
  let over = false;
  let slowestMs = 0;
  let asked = 0;
  const asking = (async () => {
    while (!over) {
      const from = performance.now();
      const { status } = await sendBytes(`${url}/healthz`, {
        method: 'GET',
        headers: {},
        bytes: Buffer.alloc(0),
      });
      if (status !== 200) throw new Error(`healthz answered ${status}`);
      slowestMs = Math.max(slowestMs, performance.now() - from);
      asked++;
      await pause(5);
    }
  })();
  const done = await work().finally(() => (over = true));
  await asking;
  return { done, slowestMs, asked };
}
