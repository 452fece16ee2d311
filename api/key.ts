import { parseArgs } from 'node:util';
import { v7 as uuidv7 } from 'uuid';
import { asSystem } from '../db/system.ts';
import { clubNamed, type Founder } from '../db/clubs.ts';
import { connectEmbedded, connectService, type Database } from '../db/connect.ts';
import { createKey, ROLES, type Role } from '../db/keys.ts';
import { FolderInUse } from '../db/lock.ts';
import { ConfigError, readConfig, type Config } from '../worker/config.ts';
import { startFault } from '../worker/startFault.ts';

const USAGE = `Makes a key and prints it once:

  npm run key -- --club NAME --role ${ROLES.join('|')} [--label TEXT]

A club of that name is made where there is none.
`;

interface Wish {
  club: string;
  role: Role;
  label: string;
}

/** The command was called with something that it cannot use. */
class UsageError extends Error {}

/** What was asked for. Throws UsageError with the usage where it is not clear. */
function readWish(argv: string[]): Wish {
  const { values } = parseArgs({
    args: argv,
    options: { club: { type: 'string' }, role: { type: 'string' }, label: { type: 'string' } },
  });
  const club = values.club?.trim();
  const role = ROLES.find((known) => known === values.role);
  if (!club) throw new UsageError(`--club is missing.\n\n${USAGE}`);
  if (club.length > 200) throw new UsageError('--club: a name has at most 200 characters.');
  if (!role)
    throw new UsageError(
      `--role is ${values.role === undefined ? 'missing' : `none of ${ROLES.join(', ')}`}.\n\n${USAGE}`,
    );
  return { club, role, label: values.label?.trim().slice(0, 200) || `${role} key made on the command line` };
}

async function connect(config: Config): Promise<Database> {
  if (config.store.mode === 'service')
    return connectService({ url: config.store.databaseUrl, maxConnections: 1 });
  return connectEmbedded({ folder: config.store.folder });
}

async function main(): Promise<void> {
  const wish = readWish(process.argv.slice(2));
  const config = readConfig(process.env);
  const database = await connect(config);
  try {
    const founder: Founder = {
      actor: 'command line',
      role: 'admin',
      requestId: 'key-command',
      now: () => new Date(),
      newId: uuidv7,
    };
    const { club, made, secret } = await asSystem(database, async (tx) => {
      const named = await clubNamed(tx, founder, { name: wish.club, currency: config.firstClub.currency });
      const { secret } = await createKey({
        ctx: named.ctx,
        input: { role: wish.role, label: wish.label },
      });
      return { ...named, secret };
    });
    if (made) process.stderr.write(`Made the club “${club.name}” (${club.currency}).\n`);
    process.stderr.write(`A new ${wish.role} key for “${club.name}”; it is shown this once:\n`);
    process.stdout.write(`${secret}\n`);
  } finally {
    await database.close();
  }
}

main().catch((error: unknown) => {
  const hint =
    error instanceof FolderInUse
      ? '\nWhile the server runs, its admin key can make keys too: POST /v1/keys {"role": "…", "label": "…"}.'
      : '';
  process.stderr.write(`${startFault(error)}${hint}\n`);
  process.exit(
    error instanceof UsageError ||
      error instanceof ConfigError ||
      (error as { code?: string }).code?.startsWith('ERR_PARSE_ARGS')
      ? 2
      : 1,
  );
});
