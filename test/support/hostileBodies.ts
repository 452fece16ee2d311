/** A body that asks for much more work than it is worth. */
export interface HostileBody {
  name: string;
  method: 'POST' | 'PUT';
  path: string;
  type: string;
  bytes: Buffer;
}

const MIB = 1024 ** 2;

/** A text of a unit over and over, between a head and an end. */
const filled = (bytes: number, unit: string, [head, end] = ['', '']) =>
  Buffer.from(`${head}${unit.repeat(Math.floor((bytes - head.length - end.length) / unit.length))}${end}`);

const list = (count: number, item: (at: number) => string) =>
  Array.from({ length: count }, (_, at) => item(at)).join(',');

const json = (name: string, bytes: Buffer | string, path = '/v1/looms'): HostileBody => ({
  name,
  method: 'POST',
  path,
  type: 'application/json',
  bytes: Buffer.from(bytes),
});

const table = (name: string, bytes: Buffer | string, path = '/v1/parts/table'): HostileBody => ({
  name,
  method: 'POST',
  path,
  type: 'text/csv',
  bytes: Buffer.from(bytes),
});

/** Bodies of up to `most` bytes, each hostile in its own way. The loom `there` is there. */
export function hostileBodies(most = 15 * MIB): HostileBody[] {
  const loom = (rest: string) => `{"code":"hostile","name":"Hostile",${rest}}`;
  const wire = (at: number) =>
    `{"id":"W${at}","cableType":"pvc-vehicle","size":"14/0.30","colour":"G/Y","from":"A","to":"B","length":"1 m"}`;
  return [
    json('texts with a zero character', filled(Math.min(most, 10 * MIB), ',"\\u0000"', ['["a"', ']'])),
    json(
      '130,000 names that are not there',
      loom(`"parts":[${list(130_000, (at) => `{"part":"p${at}","quantity":1}`)}]`),
    ),
    json(
      '500,000 names that are not there',
      loom(`"parts":[${list(Math.min(500_000, most / 24), (at) => `{"part":"p${at}"}`)}]`),
    ),
    json(
      '5,000 names that are not there',
      loom(`"parts":[${list(5_000, (at) => `{"part":"p${at}","quantity":1}`)}]`),
    ),
    json('brackets that open', filled(most, '[')),
    json('braces that open', filled(most, '{"a":')),
    json('brackets that open and close', Buffer.concat([filled(most / 2, '['), filled(most / 2, ']')])),
    json(
      'objects of one entry in one another',
      Buffer.from(`${'{"a":'.repeat(most / 6)}1${'}'.repeat(most / 6)}`),
    ),
    json('a list of objects of one entry', filled(most, '{"a":{}},', ['[', '{}]'])),
    json('numbers in the list of wires', filled(most, '0,', [loom('"wires":[').slice(0, -1), '0]}'])),
    json(
      'numbers in lists in lists',
      loom(`"points":[${list(4_000, () => `{"pins":[${'0,'.repeat(Math.min(499, most / 8_000))}0]}`)}]`),
    ),
    json('a million small texts', filled(Math.min(most, 5 * MIB), '"ab",', ['[', '"ab"]'])),
    json('one long text', filled(most, 'a', ['{"name":"', '"}'])),
    json('one long short form', filled(most, '1,', [loom('"wires":[{"length":"').slice(0, -1), '"}]}'])),
    json('one long run of digits', filled(most, '7')),
    json('many long numbers', filled(most, `${'7'.repeat(5000)},`, ['[', '0]'])),
    json('a million keys', `{${list(Math.min(1_000_000, most / 14), (at) => `"k${at}":0`)}}`),
    json('a key of many megabytes', filled(most, 'k', ['{"', '":0}'])),
    json('one key a million times', filled(most, '"k":0,', ['{', '"k":0}'])),
    json('20,000 empty wires', loom(`"wires":[${list(20_000, () => '{}')}]`)),
    json('20,000 wires with points that are not there', loom(`"wires":[${list(20_000, wire)}]`)),
    json('20,000 points of one name', loom(`"points":[${list(20_000, () => '{"id":"A","kind":"stud"}')}]`)),
    json(
      '20,000 wires, each with options that are not there',
      loom(
        `"wires":[${list(Math.min(20_000, most / 500), (at) => `${wire(at).slice(0, -1)},"options":[${list(30, (each) => `"o${each}"`)}]}`)}]`,
      ),
    ),
    json(
      'an offer of a kit of a million',
      filled(most, '{"part":"p","quantity":1},', [
        '{"form":"kit","code":"k","supplier":"s","contents":[',
        '{}]}',
      ]),
      '/v1/offers',
    ),
    json(
      'a request of 200,000 looms',
      `{"looms":[${list(Math.min(200_000, most / 24), (at) => `{"loom":"l${at}"}`)}]}`,
      '/v1/quotes',
    ),
    json(
      'a request with long lists',
      `{"looms":[{"loom":"there"}],"shutOut":[${list(Math.min(1_000_000, most / 16), (at) => `"s${at}"`)}]}`,
      '/v1/quotes',
    ),
    json('a body of spaces', filled(most, ' ')),
    json('line ends before a fault', filled(most, '\n', ['{', '!'])),
    json('bytes that are no text', Buffer.alloc(most, 0xff)),
    json('small: brackets', filled(60_000, '[')),
    json(
      'small: numbers in the list of wires',
      filled(60_000, '0,', [loom('"wires":[').slice(0, -1), '0]}']),
    ),
    json('small: empty wires', filled(60_000, '{},', [loom('"wires":[').slice(0, -1), '{}]}'])),
    json(
      'small: a long short form',
      filled(60_000, '1,', [loom('"wires":[{"id":"W","length":"').slice(0, -1), '"}]}']),
    ),
    json('small: many keys', `{${list(5_000, (at) => `"k${at}":0`)}}`),
    json(
      'small: names that are not there',
      loom(`"parts":[${list(1_400, (at) => `{"part":"p${at}","quantity":1}`)}]`),
    ),
    table('rows of one letter', filled(most, 'a\n', ['code,kind,description\n', ''])),
    table('rows that are empty', filled(most, '\n', ['code,kind,description\n', ''])),
    table('rows of faults', filled(most, 'Ä,x,\n', ['code,kind,description\n', ''])),
    table('many columns', filled(most, ',', ['code', '\n'])),
    table('one row of a million cells', filled(900_000, ',', ['code,kind,description\n', '\n'])),
    table('a quote that is not closed', filled(most, 'a', ['code,kind,description\n"', ''])),
    table(
      'a cell of brackets',
      filled(900_000, '[', ['code,supplier,form,price\na,b,pack,', '\n']),
      '/v1/offers/table',
    ),
    table(
      'wires: rows of one letter',
      filled(most, 'a\n', ['id,from,to\n', '']),
      '/v1/looms/there/tables/wires',
    ),
    table(
      'wires: rows that are faulty',
      filled(most, 'a,b,c,d\n', ['id,from,to,colour\n', '']),
      '/v1/looms/there/tables/wires',
    ),
  ];
}
