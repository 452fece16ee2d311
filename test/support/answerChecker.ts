import { Ajv2020, type ValidateFunction } from 'ajv/dist/2020.js';
import addFormats from 'ajv-formats';

interface Answer {
  status: number;
  headers: Headers;
  text: string;
}

/** What is wrong with an answer by the OpenAPI document; nothing, in an empty list. */
export type AnswerChecker = (method: string, path: string, answer: Answer) => string[];

type Content = Record<string, { schema: object }>;
interface Operation {
  responses: Record<string, { content?: Content }>;
}
interface Document {
  paths: Record<string, Record<string, Operation>>;
}

const PROBLEM = 'application/problem+json';

/** Checks real answers against the document that the app serves, by JSON Schema 2020-12 as OpenAPI 3.1 has it. */
export function answerChecker(given: unknown): AnswerChecker {
  const document = given as Document;
  const ajv = new Ajv2020({ strict: false, allErrors: true });
  addFormats.default(ajv);
  ajv.addSchema({ ...document, $id: 'openapi' });
  const compiled = new Map<string, ValidateFunction>();
  const paths = Object.keys(document.paths).map((path) => ({
    path,
    pattern: new RegExp(`^${path.replaceAll('.', '\\.').replaceAll(/\{\w+\}/g, '[^/]+')}$`),
  }));

  const validatorAt = (pointer: string): ValidateFunction => {
    const known = compiled.get(pointer);
    if (known) return known;
    const made = ajv.compile({ $ref: `openapi#${pointer}` });
    compiled.set(pointer, made);
    return made;
  };

  return (method, fullPath, answer) => {
    // HEAD is GET without the body.
    if (method === 'HEAD') return answer.text === '' ? [] : [`HEAD ${fullPath} has a body`];
    if (method === 'OPTIONS' && answer.status === 204)
      return answer.text === '' ? [] : ['OPTIONS has a body'];
    const path = fullPath.split('?')[0] ?? '';
    const type = (answer.headers.get('content-type') ?? '').split(';')[0] ?? '';
    const operationAt = paths.find(
      ({ pattern, path: name }) => pattern.test(path) && document.paths[name]?.[method.toLowerCase()],
    );
    if (!operationAt) {
      if (type !== PROBLEM)
        return [`${method} ${path}: not in the document, and no problem: ${answer.status} ${type}`];
      return faults(validatorAt('/components/schemas/Problem'), answer.text);
    }
    const operation = document.paths[operationAt.path]?.[method.toLowerCase()];
    const response = operation?.responses[String(answer.status)];
    if (!response) return [`${method} ${path}: the document has no answer ${answer.status}`];
    if (!response.content || answer.status === 304)
      return answer.text === '' ? [] : [`${method} ${path}: ${answer.status} has a body`];
    if (!response.content[type])
      return [`${method} ${path}: ${answer.status} has no type ${type} in the document`];
    if (!type.endsWith('json')) return [];
    const pointer = [
      'paths',
      operationAt.path,
      method.toLowerCase(),
      'responses',
      String(answer.status),
      'content',
      type,
      'schema',
    ]
      .map((key) => `/${encodeURIComponent(key.replaceAll('~', '~0').replaceAll('/', '~1'))}`)
      .join('');
    return faults(validatorAt(pointer), answer.text);
  };
}

function faults(validate: ValidateFunction, text: string): string[] {
  if (validate(JSON.parse(text))) return [];
  return (validate.errors ?? []).map(
    (error) => `${error.instancePath} ${error.message ?? ''} ${JSON.stringify(error.params)}`,
  );
}
