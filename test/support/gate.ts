import { connect, createServer, type Server, type Socket } from 'node:net';
import { once } from 'node:events';

/** A loopback port before a server. `shut` refuses and drops whoever comes, as a server that is away; `mute` takes in and says nothing. */
export type GateState = 'open' | 'shut' | 'mute';

export interface Gate {
  /** The server's URL by way of the gate. */
  url: string;
  set(state: GateState): Promise<void>;
  /** Drops all connections; new ones pass. Returns how many there were. */
  cut(): number;
  /** New connections lead to this server; those that are open stay where they are. */
  leadTo(target: string): void;
  /** The answer to the next COMMIT of a connection that sent the marker before is lost, with the connection. */
  loseCommitAfter(marker: string): void;
  close(): Promise<void>;
}

/** Puts a gate before the server of a URL, shut at first. */
export async function gateBefore(target: string): Promise<Gate> {
  let { hostname, port } = new URL(target);
  let marker: string | undefined;
  const pairs = new Set<readonly [Socket, Socket]>();
  let state: GateState = 'shut';
  let server: Server | undefined;

  function pass(client: Socket): void {
    const behind = connect(Number(port), hostname);
    const pair = [client, behind] as const;
    let marked = false;
    pairs.add(pair);
    for (const [from, to] of [pair, [behind, client] as const]) {
      from.on('data', (data) => {
        if (state !== 'open') return;
        const text = marker === undefined ? '' : data.toString('latin1');
        if (from === client) marked ||= marker !== undefined && text.includes(marker);
        else if (marked && text.includes('COMMIT\0')) {
          marker = undefined;
          return void client.destroy();
        }
        to.write(data);
      });
      from.on('error', () => undefined);
      from.on('close', () => {
        to.destroy();
        pairs.delete(pair);
      });
    }
  }

  async function listen(at: number): Promise<number> {
    server = createServer(pass);
    server.listen(at, '127.0.0.1');
    await once(server, 'listening');
    const address = server.address();
    if (address === null || typeof address === 'string') throw new Error('no loopback port is free');
    return address.port;
  }

  function cut(): number {
    const count = pairs.size;
    for (const pair of pairs) for (const socket of pair) socket.destroy();
    return count;
  }

  async function shut(): Promise<void> {
    cut();
    if (server?.listening !== true) return;
    const closed = once(server, 'close');
    server.close();
    await closed;
  }

  const own = await listen(0);
  await shut();
  const url = new URL(target);
  url.hostname = '127.0.0.1';
  url.port = String(own);
  return {
    url: url.href,
    set: async (next) => {
      if (next === 'shut') await shut();
      else if (state === 'shut') await listen(own);
      state = next;
    },
    cut,
    leadTo: (next) => ({ hostname, port } = new URL(next)),
    loseCommitAfter: (text) => (marker = text),
    close: shut,
  };
}
