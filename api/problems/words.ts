import type { ProblemKind } from '../http/problem.ts';

/** What is said of a kind of problem on its page. */
export interface ProblemWords {
  /** What happened, in one sentence. */
  what: string;
  /** What it comes from. */
  why: string;
  /** What the caller does. */
  todo: string;
  /** A `detail` as such a problem has it. */
  example: string;
}

/** Some kinds are told of here that only a part of the processes answers with. */
export const PROBLEM_WORDS = {
  'malformed-json': {
    what: 'The body of the request is not JSON.',
    why: 'A comma, a quote or a bracket is missing or stands where it must not, the body is empty, or it is not UTF-8 text.',
    todo: 'Go to the line and column that `detail` names, fix the text there, and send it again.',
    example: 'The body is not JSON: line 3, column 10: found "ring". Fix it there and send it again.',
  },
  'malformed-request': {
    what: 'The request cannot be read.',
    why: 'A header such as Idempotency-Key, or a file that was sent, does not have the form that it must have.',
    todo: 'Read `detail`: it names the header or the place in the file. Fix it and send the request again.',
    example:
      'An Idempotency-Key is 1 to 255 printable ASCII characters without spaces. Fix it, or leave it out.',
  },
  unauthorized: {
    what: 'The request has no key, or its key opens nothing.',
    why: 'The header Authorization is missing, the key is incomplete, or the key was revoked.',
    todo: 'Send a key of your club as `Authorization: Bearer lw_…`. If it was revoked, ask an admin of your club for another.',
    example: 'The request has no key, or the key is not valid: it is incomplete, or it was revoked.',
  },
  forbidden: {
    what: 'The key is valid, but its role may not do this.',
    why: 'Each call needs a role: viewer, member, editor or admin. The role of this key is lower.',
    todo: 'Use a key with the role that `detail` names, or ask an admin of your club for one.',
    example: 'This needs a key with the role editor. Your key has the role viewer.',
  },
  'not-found': {
    what: 'There is nothing at this path.',
    why: 'The path is misspelt, the thing was removed, or it belongs to another club. Things of other clubs look the same as things that do not exist.',
    todo: 'Check the path and the code in it. `/openapi.json` lists all paths, and the lists of a club list its codes.',
    example: 'There is no part ring-6.',
  },
  'method-not-allowed': {
    what: 'The path is there, but not with this method.',
    why: 'Each path takes some of GET, HEAD, POST, PUT, DELETE and OPTIONS. PATCH is not supported.',
    todo: 'Use one of the methods in the header Allow.',
    example: 'PATCH is not supported here. Use GET, HEAD, PUT, DELETE or OPTIONS.',
  },
  'not-acceptable': {
    what: 'It cannot be sent in the form that was asked for.',
    why: 'The Accept header, or `format` in the query, names only forms that this thing does not have.',
    todo: 'Ask for one of the types that `detail` lists, or leave Accept out.',
    example:
      'The Accept header of this request takes none of the types that there are: application/json. Name one of them in Accept, or leave the header out.',
  },
  conflict: {
    what: 'The request is right, but what is stored does not allow it.',
    why: 'The code is taken already, something still uses the thing that is to be removed, or a quote is not ready yet.',
    todo: 'Read `detail`. Wait for the quote, use another code, or change first what is in the way.',
    example: 'The part ring-6 already exists. Use another code, or change the existing one.',
  },
  stale: {
    what: 'The thing has changed since you read it. Nothing was written.',
    why: 'The ETag in If-Match is not the one that the thing has now: somebody else was faster, or the ETag is of another thing.',
    todo: 'Read the thing again, make your change in what it is now, and send it with the new ETag.',
    example:
      'It has changed since you read it. Read it again, then send your change with the new ETag in If-Match.',
  },
  'too-large': {
    what: 'The body is larger than this server takes.',
    why: 'Each server has a limit for a body and one for an archive (LOOMWRIGHT_BODY_BYTES, LOOMWRIGHT_ARCHIVE_BYTES).',
    todo: 'Send less at a time, or ask who runs the server for a higher limit.',
    example: 'The body is larger than 16777216 bytes (16.0 MiB). Send less at a time.',
  },
  'unsupported-media-type': {
    what: 'The body has a type that this call does not take.',
    why: 'The header Content-Type is missing or wrong: JSON is application/json, a table is text/csv, an archive is application/gzip.',
    todo: 'Send the type that `detail` names.',
    example:
      'Send JSON with Content-Type: application/json. The Content-Type of this request was "text/plain".',
  },
  'not-valid': {
    what: 'Some of what was sent cannot be used. Nothing was written.',
    why: 'A field is missing, unknown or out of its range, or it names something that the club does not have.',
    todo: 'Fix each fault in `findings`: `at` is a pointer into what you sent, `found` is what was there, `todo` is what to write. All faults are told at once.',
    example: 'Some of what you sent cannot be used. Fix each fault that is listed and send it again.',
  },
  'key-reused': {
    what: 'The Idempotency-Key was used before, with another body.',
    why: 'A key stands for one request. Repeated with the same body it gives the same answer; another body is another request.',
    todo: 'Take a new key for a new request. To repeat a request, send it exactly as before.',
    example: 'This Idempotency-Key was used with another body.',
  },
  'if-match-needed': {
    what: 'A change must say which version it changes.',
    why: 'Without If-Match, two people who change one thing at the same time would overwrite each other.',
    todo: 'Read the thing, and send its ETag in If-Match. `If-Match: *` changes whichever version is there now.',
    example: 'Send If-Match with the ETag that you read. This protects the changes of other people.',
  },
  'too-many': {
    what: 'The server does as much of this at once as it can.',
    why: 'Checks of looms and PDFs are made a few at a time.',
    todo: 'Wait as many seconds as the header Retry-After says, and ask again.',
    example: 'Too many PDFs are being made at once. Try again in a few seconds.',
  },
  'queue-full': {
    what: 'Your club has as many quotes waiting as it may have.',
    why: 'Each club has a limit, so that the quotes of one club do not keep all others waiting.',
    todo: 'Wait as many seconds as the header Retry-After says, or cancel tasks that you no longer need.',
    example: 'Your club has 500 tasks waiting, and no more can be added now. Try again in 30 s.',
  },
  'too-many-requests': {
    what: 'There were too many requests in a short time.',
    why: 'Each key has a limit, and so has each address that sends keys which are not valid.',
    todo: 'Wait as many seconds as the header Retry-After says, and then ask less often.',
    example: 'Too many requests with this key. Try again in 1 s.',
  },
  internal: {
    what: 'The server failed in a way that nobody foresaw.',
    why: 'This is a fault of the server, not of the request.',
    todo: 'Report the `requestId` to who runs the server: the log has more under it. If the request was a change, read first whether it was made.',
    example: 'Report this fault with the request id 01a213a1-9f75-7282-ab0e-171a66b0be74.',
  },
  'out-of-time': {
    what: 'The work took longer than a request may take.',
    why: 'A check or a PDF of a very large loom can take that long.',
    todo: 'Do what `detail` says: ask for less at once, or in another form.',
    example: 'The checks did not finish within 30 s. Ask for a quote instead.',
  },
  'not-ready': {
    what: 'The server cannot work at the moment.',
    why: 'It is starting or stopping, or a part that it needs does not answer. `detail` names the part.',
    todo: 'Wait as many seconds as the header Retry-After says, and ask again. Who runs the server finds help in docs/operations.md.',
    example: 'The database does not answer.',
  },
  'database-away': {
    what: 'The database does not answer.',
    why: 'It restarts, it cannot be reached, or it has no free connection.',
    todo: 'Wait as many seconds as the header Retry-After says, and repeat the request. `detail` says whether anything was written.',
    example: 'The database does not answer. Nothing was stored. Try again in 5 s.',
  },
  'outcome-unknown': {
    what: 'The connection to the database broke while a change was being written. It may have been written or not.',
    why: 'The database did its work, but its answer was lost; or it never got the request.',
    todo: 'If the request had an Idempotency-Key, repeat it with the same key: it is done once. If not, read whether the change is there before you send it again.',
    example:
      'The database stopped answering while this was being written. It may be stored. Repeat the request with the same Idempotency-Key.',
  },
  'storage-full': {
    what: 'There is no room on the disk of the server. Nothing was written.',
    why: 'The disk of the database is full.',
    todo: 'Tell who runs the server. Reading still works. Writing works again as soon as there is room.',
    example: 'The disk of the server is full, so nothing can be stored.',
  },
} as const satisfies Record<ProblemKind, ProblemWords> & Record<string, ProblemWords>;
