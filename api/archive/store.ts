import { createWriteStream, existsSync } from 'node:fs';
import { rename, rm } from 'node:fs/promises';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { v7 as uuidv7 } from 'uuid';
import { importClub } from '../../db/archive/importClub.ts';
import type { Report } from '../../db/archive/report.ts';
import { clubIdOf, clubNames } from '../../db/clubs.ts';
import { connectEmbedded, connectService, type Database } from '../../db/connect.ts';
import { FolderInUse } from '../../db/lock.ts';
import { asSystem } from '../../db/system.ts';
import { nearestName } from '../../worker/engine/model/nearest.ts';
import type { Config } from '../../worker/config.ts';
import { callerOf, Refused, Unreachable, type Caller } from '../client.ts';
import { addressFrom, keyFrom } from '../reach.ts';
import type { Counts, Header } from './frame.ts';
import { archiveLimits, type ArchiveLimits } from './limits.ts';
import { entriesOf, summaryOf } from './readArchive.ts';
import { refuseDiffering } from './refuseDiffering.ts';
import { writeArchive } from './writeArchive.ts';

/** Where a command finds its club: through a server, or straight in the database where none runs. */
export interface Store {
  club: string;
  /** In words. */
  where: string;
  /** Writes an archive in one piece: a file of that name is the whole archive, or what it was. */
  exportTo(file: string, limits: ArchiveLimits): Promise<{ header: Header; counts: Counts }>;
  importFrom(file: string, preview: boolean): Promise<Report>;
  close(): Promise<void>;
}

/** Nothing can be tried; the message says what to do. */
export class NotDone extends Error {}

interface Wish {
  club: string | undefined;
  url: string | undefined;
}

/** Errors: NotDone, NoKey, WrongCall, Unreachable, Refused. */
export async function openStore(config: Config, wish: Wish): Promise<Store> {
  const url = addressFrom(wish.url, config);
  if (wish.url !== undefined || (await answers(url))) return serverStore(url, wish.club);
  return databaseStore(config, wish.club);
}

/** Whether a Loomwright server is there. */
async function answers(url: string): Promise<boolean> {
  const answer = await fetch(`${url}/openapi.json`).catch(() => undefined);
  const document = (await answer?.json().catch(() => undefined)) as { info?: { title?: string } } | undefined;
  return document?.info?.title === 'Loomwright';
}

const PATH = '/v1/club/archive';

async function serverStore(url: string, wanted: string | undefined): Promise<Store> {
  const api = callerOf(url, keyFrom(process.env, 'admin'));
  const club = await clubOf(api, url);
  if (wanted !== undefined && wanted !== club)
    throw new NotDone(
      `The key opens the club “${club}” and not “${wanted}”. Set LOOMWRIGHT_KEY to an admin key of that club, or leave --club out.`,
    );
  return {
    club,
    where: `the server at ${url}`,
    exportTo: (file, limits) =>
      whole(file, limits, async (part) => {
        const { body } = await api.get(PATH);
        if (!body) throw new Unreachable(`The server at ${url} answered with nothing.`);
        await pipeline(
          Readable.fromWeb(body as never),
          createWriteStream(part, { flags: 'wx', mode: 0o600 }),
        );
      }),
    importFrom: async (file, preview) => {
      const answer = await api.sendFile(`${PATH}?preview=${preview}`, file, 'application/gzip');
      return (await answer.json()) as Report;
    },
    close: async () => undefined,
  };
}

async function clubOf(api: Caller, url: string): Promise<string> {
  try {
    return ((await (await api.get('/v1/club')).json()) as { name: string }).name;
  } catch (error) {
    if (error instanceof SyntaxError || (error instanceof Refused && error.status === 404))
      throw new Unreachable(`The server at ${url} is not a Loomwright server.`);
    throw error;
  }
}

async function databaseStore(config: Config, wanted: string | undefined): Promise<Store> {
  const database = await connect(config);
  try {
    const { id, name } = await clubIn(database, wanted);
    const ctx = {
      club: id,
      actor: 'command line',
      role: 'admin',
      requestId: 'archive-command',
      now: () => new Date(),
      newId: uuidv7,
    } as const;
    const { store } = config;
    return {
      club: name,
      where: store.mode === 'service' ? 'the database' : `the data folder ${store.folder}`,
      exportTo: (file, limits) => whole(file, limits, (part) => writeArchive(database, ctx, part)),
      importFrom: async (file, preview) => {
        const entries = entriesOf(file, archiveLimits(config));
        const report = await importClub(database, ctx, { entries, preview });
        if (!preview) refuseDiffering(report);
        return report;
      },
      close: () => database.close(),
    };
  } catch (error) {
    await database.close();
    throw error;
  }
}

async function connect({ store }: Config): Promise<Database> {
  if (store.mode === 'service') return connectService({ url: store.databaseUrl, maxConnections: 1 });
  if (!existsSync(store.folder))
    throw new NotDone(
      `No server answers, and there is no data folder ${store.folder}. Start the server once with npm start, which makes it and a first club; or name the folder in LOOMWRIGHT_DATA.`,
    );
  try {
    return await connectEmbedded({ folder: store.folder });
  } catch (error) {
    if (!(error instanceof FolderInUse)) throw error;
    throw new NotDone(`${error.message}\nIf it is a server, say with --url where it answers.`);
  }
}

/** The club of that name, or the only one. */
function clubIn(database: Database, wanted: string | undefined): Promise<{ id: string; name: string }> {
  return asSystem(database, async (tx) => {
    const names = await clubNames(tx);
    const name = wanted ?? (names.length === 1 ? names[0] : undefined);
    if (name === undefined)
      throw new NotDone(
        names.length === 0
          ? 'There is no club yet. Make one with npm run key -- --club NAME --role admin --new.'
          : `There are ${names.length} clubs. Say which: --club NAME.`,
      );
    const id = await clubIdOf(tx, name);
    if (id !== undefined) return { id, name };
    const nearest = nearestName(name, names);
    throw new NotDone(
      `There is no club “${name}”.${nearest === undefined ? '' : ` The nearest name there is: “${nearest}”.`} Correct the name, or make the club with npm run key -- --club NAME --role admin --new.`,
    );
  });
}

/** Writes beside the file, reads back what was written, and gives it the file's name only then. */
async function whole(
  file: string,
  limits: ArchiveLimits,
  write: (part: string) => Promise<void>,
): Promise<{ header: Header; counts: Counts }> {
  const part = `${file}.part-${process.pid}`;
  try {
    await write(part);
    const summary = await summaryOf(part, limits);
    await rename(part, file);
    return summary;
  } finally {
    await rm(part, { force: true });
  }
}
