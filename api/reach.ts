import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { ADMIN_KEY_FILE } from '../db/first.ts';
import type { Role } from '../db/keys.ts';
import { WrongCall } from '../worker/command/arguments.ts';
import { readConfig } from '../worker/config.ts';

/** There is no key to call a server with; the message says where to get one. */
export class NoKey extends Error {}

/** The key of a command: LOOMWRIGHT_KEY, else the admin-key of the data folder. Error: NoKey. */
export function keyFrom(env: Record<string, string | undefined>, role: Role): string {
  if (env['LOOMWRIGHT_KEY']) return env['LOOMWRIGHT_KEY'];
  const { store } = readConfig(env);
  if (store.mode === 'service') throw new NoKey(`Set LOOMWRIGHT_KEY to a key with the role ${role}.`);
  const file = join(store.folder, ADMIN_KEY_FILE);
  if (!existsSync(file))
    throw new NoKey(
      `There is no key in ${file}. Start the server once with npm start. Or, if the file was removed, stop the server, make a key with npm run key -- --club NAME --role ${role}, and set LOOMWRIGHT_KEY to it.`,
    );
  return readFileSync(file, 'utf8').trim();
}

/** The address of a server, without a slash at its end. Error: WrongCall. */
export function addressFrom(
  given: string | undefined,
  { host, port }: { host: string; port: number },
): string {
  const url = given ?? `http://${host.includes(':') ? `[${host}]` : host}:${port}`;
  if (!URL.canParse(url) || !/^https?:$/.test(new URL(url).protocol))
    throw new WrongCall(`--url ${url} is not an address of a server. Write it as in http://127.0.0.1:8080.`);
  return url.replace(/\/+$/, '');
}
