import { connect, createServer, type Server, type Socket } from 'node:net';
import { once } from 'node:events';

/** A loopback port before a server. `shut` refuses and drops whoever comes, as a server that is away; `mute` takes in and says nothing. */
export type GateState = 'open' | 'shut' | 'mute';

export interface Gate {
  /** The server's URL by way of the gate. */
  url: string;
  set(state: GateState): Promise<void>;
  close(): Promise<void>;
}

/** Puts a gate before the server of a URL, shut at first. */
export async function gateBefore(target: string): Promise<Gate> {
  const { hostname, port } = new URL(target);
  const pairs = new Set<readonly [Socket, Socket]>();
  let state: GateState = 'shut';
  let server: Server | undefined;

  function pass(client: Socket): void {
    const behind = connect(Number(port), hostname);
    const pair = [client, behind] as const;
    pairs.add(pair);
    for (const [from, to] of [pair, [behind, client] as const]) {
      from.on('data', (data) => void (state === 'open' && to.write(data)));
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

  async function shut(): Promise<void> {
    for (const pair of pairs) for (const socket of pair) socket.destroy();
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
    close: shut,
  };
}
