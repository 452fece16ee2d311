import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { readArguments, WrongCall } from '../worker/command/arguments.ts';
import { readConfig } from '../worker/config.ts';
import { Job } from '../worker/engine/model/job.ts';
import { readResult } from '../worker/engine/model/upgrade.ts';
import { createLog } from '../worker/log.ts';
import { quoteText } from '../worker/sheets/quoteText.ts';
import { callerOf, type Caller } from './client.ts';
import { loadJob } from './load/loadJob.ts';
import { openEmbedded } from './embedded.ts';
import { serveApp } from './serve.ts';

/** The main job from start to end, over HTTP, in a folder of its own that is gone afterwards. */
const EXAMPLE = new URL('../examples/van/job.json', import.meta.url);

const USAGE = `Shows a whole quote from start to end, in a temporary folder that is removed afterwards:

  npm run demo

It starts a server, loads the example van over HTTP, asks for a quote and prints it; this takes about a minute. The only
flag is --help, which prints this. Nothing of yours is read or changed.
`;

// Whoever reads only the first lines closes the pipe early; the demo still tidies up.
process.stdout.on('error', () => undefined);

const started = performance.now();
const say = (text: string) => process.stdout.write(`${text}\n`);
const seconds = () => ((performance.now() - started) / 1000).toFixed(1);

/** Puts the example’s terms, catalogue and looms into the club, as a client would. */
async function load(api: Caller, job: Job): Promise<void> {
  const terms = await api.get('/v1/club');
  await api.send('PUT', '/v1/club', job.club, { 'if-match': terms.headers.get('etag') ?? '' });
  const { refused } = await loadJob(api, job);
  for (const { why } of refused) throw new Error(why);
  say(
    `Loaded ${job.parts.length} parts, ${job.suppliers.length} suppliers, ${job.offers.length} offers and ${job.looms.length} looms.`,
  );
}

/** Follows a task's events to its end, with a line that tells how far it is. */
async function follow(api: Caller, task: string): Promise<void> {
  const events = await api.get(`${task}/events`);
  let rest = '';
  const decoder = new TextDecoder();
  for await (const chunk of events.body as unknown as AsyncIterable<Uint8Array>) {
    const blocks = (rest + decoder.decode(chunk, { stream: true })).split('\n\n');
    rest = blocks.pop() ?? '';
    for (const block of blocks) {
      const data = /^data: (.*)$/m.exec(block)?.[1];
      if (data === undefined) continue;
      const { state, progress } = JSON.parse(data) as { state: string; progress: { message: string } };
      const line = `Quote ${state}: ${progress.message}`;
      process.stdout.write(process.stdout.isTTY ? `\r\u001b[K${line}` : `${line}\n`);
    }
  }
  if (process.stdout.isTTY) process.stdout.write('\n');
}

async function main(): Promise<void> {
  if (readArguments(process.argv.slice(2), { usage: USAGE, options: {} }).help) {
    process.stdout.write(USAGE);
    return;
  }
  const folder = mkdtempSync(join(tmpdir(), 'loomwright-demo-'));
  try {
    const config = readConfig({ LOOMWRIGHT_DATA: folder, PORT: '0', LOG_LEVEL: 'error' });
    const log = createLog(config.logLevel, 'demo');
    let key = '';
    const house = await openEmbedded(config, folder, log, (secret) => (key = secret));
    const server = await serveApp(house, config, log);
    try {
      say(`A server for the demo answers at ${server.url}, ready after ${seconds()} s.`);
      const api = callerOf(server.url, key);
      const job = Job.parse(JSON.parse(readFileSync(EXAMPLE, 'utf8')));
      await load(api, job);
      const asked = await api.send('POST', '/v1/quotes', { ...job.request, asOf: job.asOf });
      const { task, result } = (await asked.json()) as { task: string; result: string };
      await follow(api, task);
      say('');
      const rest = 'The same with its appendix: npm run price -- examples/van/job.json --full';
      say(quoteText(readResult(await (await api.get(result)).json()), rest));
    } finally {
      await server.stop();
    }
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
  say(`Done in ${seconds()} s. The same without a server: npm run price -- examples/van/job.json`);
}

main().catch((error: unknown) => {
  process.stderr.write(`${error instanceof Error ? error.message : 'The demo failed.'}\n`);
  process.exit(error instanceof WrongCall ? 2 : 1);
});
