/** One curl call of a shell text, as far as those of the pages go. */
export interface CurlCall {
  method: string;
  path: string;
  headers: Record<string, string>;
  body: string | undefined;
  /** The file whose bytes are the body, where it is not written in the call. */
  bodyFile?: string;
  /** The file to which the answer goes. */
  output?: string;
  /** The variable that gets what is found in the answer, where one does. */
  keeps?: { name: string; finds: RegExp };
}

const HOST = /^(?:localhost|http:\/\/127\.0\.0\.1):8080(?=\/)/;

/** The curl calls of a shell text, with these variables; each is read when it is its turn, with what the ones before it kept. */
export function curlCalls(text: string): ((variables: Record<string, string>) => CurlCall)[] {
  return text
    .replaceAll(/\\\n\s*/g, ' ')
    .split('\n')
    .filter((line) => /(^|\()curl /.test(line))
    .map((line) => (variables) => callOf(line, variables));
}

function callOf(line: string, variables: Record<string, string>): CurlCall {
  const kept = /^(\w+)=\$\((curl .*?) \| grep -o '([^']*)' \| head -1\)$/.exec(line);
  const [, ...words] = wordsOf(kept?.[2] ?? line, variables);
  const call: CurlCall = { method: 'GET', path: '', headers: {}, body: undefined };
  while (words.length > 0) {
    const word = words.shift() ?? '';
    if (word === '-s') continue;
    else if (word === '-H') {
      const [name = '', ...value] = (words.shift() ?? '').split(': ');
      call.headers[name.toLowerCase()] = value.join(': ');
    } else if (word === '-d') {
      call.body = words.shift() ?? '';
      call.method = 'POST';
    } else if (word === '--data-binary' && words[0]?.startsWith('@')) {
      call.bodyFile = words.shift()?.slice(1) ?? '';
      call.method = 'POST';
    } else if (word === '-o') call.output = words.shift() ?? '';
    else if (HOST.test(word)) call.path = word.replace(HOST, '');
    else throw new Error(`curl is called with ${word}, which is not read here: ${line}`);
  }
  return kept ? { ...call, keeps: { name: kept[1] ?? '', finds: new RegExp(kept[3] ?? '') } } : call;
}

/** The words of a line as a shell makes them of quotes and variables. */
function wordsOf(line: string, variables: Record<string, string>): string[] {
  return [...line.matchAll(/(?:"[^"]*"|'[^']*'|[^\s"'])+/g)].map(([word]) =>
    word.replaceAll(
      /'([^']*)'|"([^"]*)"|([^'"]+)/g,
      (_all, plain?: string, quoted?: string, bare?: string) =>
        plain !== undefined
          ? plain
          : (quoted ?? bare ?? '').replaceAll(/\$(\w+)/g, (_name, name: string) => {
              const value = variables[name];
              if (value === undefined) throw new Error(`$${name} is not set: ${line}`);
              return value;
            }),
    ),
  );
}
