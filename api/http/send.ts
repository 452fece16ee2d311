import type { Context } from 'hono';
import { setImmediate } from 'node:timers/promises';
import { promisify } from 'node:util';
import { createGzip, gzip } from 'node:zlib';
import { Readable } from 'node:stream';
import { knownBy, packedEtag } from './etag.ts';

/** A text to be sent: its headers in lower case, and where it can be told again, its `etag`. */
export interface Text {
  status: number;
  headers: Record<string, string>;
  body: string;
}

/** Below this many bytes packing saves no packet of the network. */
const PACK_FROM = 1024;

const pack = promisify(gzip);

/**
 * Answers with a text: 304 where the reader has it already (RFC 9110 §13.1.2), packed by gzip where that is asked for and
 * pays. The packing runs in a thread of libuv. A HEAD gets the headers of the GET, Content-Length included.
 */
export async function sendText(c: Context, { status, headers, body }: Text): Promise<Response> {
  const bytes = Buffer.byteLength(body);
  const packable = isPackable(headers['content-type']) && bytes >= PACK_FROM;
  const varied = packable ? varies(headers, 'accept-encoding') : headers;
  const unchanged = status === 200 ? notModified(c, varied) : undefined;
  if (unchanged) return unchanged;
  const isHead = c.req.method === 'HEAD';
  if (!packable || !takesGzip(c.req.header('accept-encoding'))) {
    if (isHead)
      return new Response(null, { status, headers: { ...varied, 'content-length': String(bytes) } });
    return new Response(body === '' ? null : body, { status, headers: varied });
  }
  const packed = await pack(body);
  return new Response(isHead ? null : packed, {
    status,
    headers: { ...packedHeaders(varied), 'content-length': String(packed.byteLength) },
  });
}

/** Answers with a document that nobody keeps. */
export function sendJson(c: Context, body: unknown, headers: Record<string, string> = {}): Promise<Response> {
  return sendText(c, {
    status: 200,
    headers: { 'content-type': 'application/json', 'cache-control': 'private, no-store', ...headers },
    body: JSON.stringify(body),
  });
}

/** Answers with a text that is made while it is sent, packed as it goes where that is asked for; a HEAD makes none of it. */
export function sendStream(
  c: Context,
  { headers, body }: { headers: Record<string, string>; body: () => ReadableStream<Uint8Array> },
): Response {
  const varied = varies(headers, 'accept-encoding');
  const packed = takesGzip(c.req.header('accept-encoding'));
  const given = packed ? packedHeaders(varied) : varied;
  if (c.req.method === 'HEAD') return new Response(null, { headers: given });
  return new Response(packed ? packedStream(body()) : body(), { headers: given });
}

/** Text that is sent as it is made: no more of it is held than its reader has asked for. */
export function streamOf(pieces: Iterable<string>): ReadableStream<Uint8Array> {
  const encoder = new TextEncoder();
  const all = pieces[Symbol.iterator]();
  return new ReadableStream<Uint8Array>({
    pull: async (controller) => {
      // Others are served between two pieces.
      await setImmediate();
      const next = all.next();
      if (next.done === true) controller.close();
      else controller.enqueue(encoder.encode(next.value));
    },
    cancel: () => void all.return?.(),
  });
}

/** 304 where If-None-Match names what would be sent; its headers are those that RFC 9110 §15.4.5 asks for. */
export function notModified(c: Context, headers: Record<string, string>): Response | undefined {
  const { etag } = headers;
  if (etag === undefined || (c.req.method !== 'GET' && c.req.method !== 'HEAD')) return undefined;
  const known = knownBy(c.req.header('if-none-match'), etag);
  if (known === undefined) return undefined;
  const kept = ['cache-control', 'vary', 'link'].flatMap((name) =>
    headers[name] === undefined ? [] : [[name, headers[name]] as const],
  );
  return new Response(null, { status: 304, headers: { ...Object.fromEntries(kept), etag: known } });
}

/** The headers, and that the answer also depends on this one of the request's (RFC 9110 §12.5.5). */
export function varies(headers: Record<string, string>, on: string): Record<string, string> {
  const vary = headers['vary'];
  return { ...headers, vary: vary === undefined ? on : `${vary}, ${on}` };
}

/** Whether a caller takes gzip at least as gladly as the text itself (RFC 9110 §12.5.3). */
export function takesGzip(header: string | undefined): boolean {
  if (header === undefined) return false;
  const liked = new Map(
    header.split(',').map((each) => {
      const [coding = '', weight = ''] = each.split(';').map((word) => word.trim().toLowerCase());
      const quality = weight === '' ? 1 : Number(/^q\s*=\s*([01](?:\.\d{0,3})?)$/.exec(weight)?.[1] ?? 0);
      return [coding, quality] as const;
    }),
  );
  const gzipped = liked.get('gzip') ?? liked.get('x-gzip') ?? liked.get('*') ?? 0;
  return gzipped > 0 && gzipped >= (liked.get('identity') ?? 0);
}

function isPackable(type = ''): boolean {
  return /^(text\/(?!event-stream)|application\/([\w.-]+\+)?json\b)/.test(type);
}

function packedHeaders(headers: Record<string, string>): Record<string, string> {
  const { etag } = headers;
  return {
    ...headers,
    'content-encoding': 'gzip',
    ...(etag === undefined ? {} : { etag: packedEtag(etag) }),
  };
}

function packedStream(body: ReadableStream<Uint8Array>): ReadableStream<Uint8Array> {
  const source = Readable.fromWeb(body as Parameters<typeof Readable.fromWeb>[0]);
  const packed = createGzip();
  source.on('error', (error) => packed.destroy(error));
  packed.on('close', () => source.destroy());
  return Readable.toWeb(source.pipe(packed)) as ReadableStream<Uint8Array>;
}
