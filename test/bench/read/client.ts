import { connect } from 'node:net';

/** What so many requests took. */
export interface Round {
  requests: number;
  seconds: number;
  /** Of each request, ascending. */
  milliseconds: number[];
}

const END_OF_HEAD = '\r\n\r\n';

/**
 * Sends `requests` requests over `connections` kept connections, each the next when the last is answered, and throws
 * where one is not answered with 200. It looks at no more of an answer than its length, so that the server is what is
 * measured.
 */
export async function ask(
  port: number,
  path: string,
  authorization: string,
  { requests, connections }: { requests: number; connections: number },
): Promise<Round> {
  const request = `GET ${path} HTTP/1.1\r\nhost: 127.0.0.1:${port}\r\nauthorization: ${authorization}\r\n\r\n`;
  const milliseconds: number[] = [];
  let left = requests;
  const from = performance.now();
  await Promise.all(Array.from({ length: connections }, () => follow()));
  const seconds = (performance.now() - from) / 1000;
  return { requests, seconds, milliseconds: milliseconds.sort((a, b) => a - b) };

  function follow(): Promise<void> {
    return new Promise((resolve, reject) => {
      const socket = connect({ host: '127.0.0.1', port, noDelay: true });
      let read = '';
      let sent = 0;
      const next = () => {
        if (left === 0) {
          socket.end();
          resolve();
          return;
        }
        left--;
        sent = performance.now();
        socket.write(request);
      };
      socket.setEncoding('latin1');
      socket.on('connect', next);
      socket.on('error', reject);
      socket.on('close', () => reject(new Error('the server closed the connection')));
      socket.on('data', (text: string) => {
        read += text;
        const head = read.indexOf(END_OF_HEAD);
        if (head < 0) return;
        if (!isWhole(read, head)) return;
        if (!read.startsWith('HTTP/1.1 200')) {
          reject(new Error(`answered ${read.slice(0, 400)}`));
          socket.destroy();
          return;
        }
        read = '';
        milliseconds.push(performance.now() - sent);
        next();
      });
    });
  }
}

/** Whether the answer has come whole; its head ends at `head`. */
function isWhole(read: string, head: number): boolean {
  const [, length] = /\r\ncontent-length: (\d+)/i.exec(read.slice(0, head)) ?? [];
  return length === undefined
    ? read.endsWith('0\r\n\r\n')
    : read.length >= head + END_OF_HEAD.length + Number(length);
}
