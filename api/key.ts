import { existsSync } from 'node:fs';
import { v7 as uuidv7 } from 'uuid';
import { connectEmbedded, connectService, type Database } from '../db/connect.ts';
import { ROLES, type Role } from '../db/keys.ts';
import { FolderInUse } from '../db/lock.ts';
import { Name } from '../worker/engine/model/code.ts';
import { LIMITS } from '../worker/engine/model/limits.ts';
import { readArguments, WrongCall } from '../worker/command/arguments.ts';
import { ConfigError, readConfig, type Config } from '../worker/config.ts';
import { startFault } from '../worker/startFault.ts';
import { KeyRefused, newKey } from './newKey.ts';

const USAGE = `Makes a key to a club and prints it. The key is shown only this once:

  npm run key -- --club NAME --role ${ROLES.join('|')} [--member NAME] [--label TEXT] [--new]

  --club NAME   the club, by its whole name
  --role        viewer reads; member also asks for quotes; editor also keeps the catalogue and looms; admin also makes keys,
                sets the club's terms, and exports and imports archives
  --member NAME whose the key is, by their whole name; where the club has no member of that name, they become one, with
                the role of the key. Without it the key belongs to no member
  --label TEXT  a note that tells you later which key this is
  --new         makes the club first; without it the club must exist
  --help        prints this

If the data is in a folder, stop the server first. With DATABASE_URL you can make keys at any time. The exit code is 0
if the key was made; 1 if that failed; 2 if the flags cannot be used, or the club does not exist.
`;

/** What was asked for. Throws WrongCall with the usage where it is not clear. */
function readWish(
  argv: string[],
):
  | { help: true }
  | { help: false; club: string; role: Role; label: string; member: string | undefined; make: boolean } {
  const asked = readArguments(argv, {
    usage: USAGE,
    options: {
      club: { type: 'string' },
      role: { type: 'string' },
      label: { type: 'string' },
      member: { type: 'string' },
      new: { type: 'boolean' },
    },
  });
  if (asked.help) return asked;
  const { values } = asked;
  const wrong = (why: string) => new WrongCall(`${why}\n\n${USAGE.trimEnd()}`);
  const club = values.club?.trim();
  const role = ROLES.find((known) => known === values.role);
  if (!club) throw wrong('Say which club: --club NAME.');
  if (club.length > 200) throw wrong('--club: a name has at most 200 characters.');
  if (!role)
    throw wrong(
      values.role === undefined
        ? `Say which role: --role ${ROLES.join('|')}.`
        : `There is no role ${values.role}. Give one of: ${ROLES.join(', ')}.`,
    );
  const member = values.member?.trim();
  if (member !== undefined && !Name.safeParse(member).success)
    throw wrong(`--member: a name has 1 to ${LIMITS.nameLength} characters.`);
  const label = values.label?.trim().slice(0, 200) || `${role} key made on the command line`;
  return { help: false, club, role, label, member, make: values.new === true };
}

/** A folder that is not there is made for a new club alone. */
async function connect({ store }: Config, make: boolean): Promise<Database> {
  if (store.mode === 'service') return connectService({ url: store.databaseUrl, maxConnections: 1 });
  if (!make && !existsSync(store.folder))
    throw new KeyRefused(
      `There is no data folder ${store.folder}. Start the server once with npm start: this makes the folder and a first club. Or name another folder in LOOMWRIGHT_DATA.`,
    );
  return connectEmbedded({ folder: store.folder });
}

async function main(): Promise<void> {
  const wish = readWish(process.argv.slice(2));
  if (wish.help) {
    process.stdout.write(USAGE);
    return;
  }
  const config = readConfig(process.env);
  const database = await connect(config, wish.make);
  try {
    const founder = {
      actor: 'command line',
      role: 'admin',
      requestId: 'key-command',
      now: () => new Date(),
      newId: uuidv7,
    } as const;
    const { club, member, role, secret } = await newKey(database, founder, {
      ...wish,
      currency: config.firstClub.currency,
    });
    if (wish.make) process.stderr.write(`Made the club “${club.name}” (${club.currency}).\n`);
    if (member?.made)
      process.stderr.write(`${member.name} is now a member of “${club.name}”, with the role ${role}.\n`);
    else if (role !== wish.role)
      process.stderr.write(
        `${member?.name} has the role ${role}, so the key opens no more. An admin can change their role: PUT /v1/members/{id}.\n`,
      );
    const whose = member ? ` of ${member.name}` : '';
    process.stderr.write(`A new ${wish.role} key${whose} for “${club.name}”. It is shown only this once:\n`);
    process.stdout.write(`${secret}\n`);
  } finally {
    await database.close();
  }
}

main().catch((error: unknown) => {
  const hint =
    error instanceof FolderInUse
      ? '\nWhile the server runs, an admin key can make keys too: POST /v1/keys {"role": "…", "label": "…"}.'
      : '';
  process.stderr.write(`${startFault(error)}${hint}\n`);
  const asked = [WrongCall, KeyRefused, ConfigError].some((kind) => error instanceof kind);
  process.exit(asked ? 2 : 1);
});
