import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { notAnswering, type Parts } from '../wake/ready.ts';
import type { Meter } from './meter.ts';

/** What answers on the port of the metrics. */
export interface MetricsServer {
  url: string;
  close(): Promise<void>;
}

/**
 * Serves /metrics, /healthz and /readyz, without a key, on a port of their own that the world does not reach. Rejects where
 * the port cannot be had.
 */
export async function serveMetrics(
  meter: Meter,
  parts: Parts,
  { host, port }: { host: string; port: number },
): Promise<MetricsServer> {
  const answers: Record<string, () => Promise<[status: number, type: string, body: string]>> = {
    '/healthz': () => Promise.resolve([200, JSON_TYPE, '{"status":"ok"}']),
    '/readyz': async () => {
      const missing = await notAnswering(parts);
      return missing.length === 0
        ? [200, JSON_TYPE, '{"status":"ok"}']
        : [503, JSON_TYPE, JSON.stringify({ status: 'not ready', missing })];
    },
    '/metrics': async () => [200, meter.type, await meter.text()],
  };
  const server = createServer((request, response) => {
    const path = (request.url ?? '').split('?')[0] ?? '';
    const answer = Object.hasOwn(answers, path) ? answers[path] : undefined;
    const isRead = request.method === 'GET' || request.method === 'HEAD';
    const outcome: ReturnType<NonNullable<typeof answer>> = !answer
      ? Promise.resolve([404, 'text/plain', 'See /metrics, /healthz and /readyz.\n'])
      : !isRead
        ? Promise.resolve([405, 'text/plain', 'Use GET or HEAD.\n'])
        : answer();
    outcome.then(
      ([status, type, body]) => {
        response.writeHead(status, {
          'content-type': type,
          'cache-control': 'no-store',
          'content-length': Buffer.byteLength(body),
          ...(status === 405 ? { allow: 'GET, HEAD' } : {}),
        });
        response.end(request.method === 'HEAD' ? undefined : body);
      },
      () => response.writeHead(500).end(),
    );
  });
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject);
    server.listen(port, host, resolve);
  });
  const bound = server.address() as AddressInfo;
  return {
    url: `http://${host.includes(':') ? `[${host}]` : host}:${bound.port}`,
    close: () =>
      new Promise((resolve) => {
        server.close(() => resolve());
        server.closeAllConnections();
      }),
  };
}

const JSON_TYPE = 'application/json';
