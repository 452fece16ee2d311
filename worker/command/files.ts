/** Why a file cannot be read, in words. */
export function unreadable(file: string, error: unknown): string {
  switch (codeOf(error)) {
    case 'ENOENT':
    case 'ENOTDIR':
      return `There is no file ${file}.`;
    case 'EISDIR':
      return `${file} is a folder. Name a file in it.`;
    case 'EACCES':
    case 'EPERM':
      return `${file} cannot be read: you do not have permission.`;
    default:
      return `${file} cannot be read: ${messageOf(error)}`;
  }
}

/** Why a file cannot be written to a folder, in words. */
export function unwritable(name: string, folder: string, error: unknown): string {
  const why = {
    EEXIST: `${folder} is a file, not a folder`,
    ENOTDIR: `${folder} is not a folder, or a file is part of its path`,
    EACCES: 'you do not have permission to write there',
    EPERM: 'you do not have permission to write there',
    EROFS: 'it is read-only',
    ENOSPC: 'the disk is full',
  }[codeOf(error)];
  return `${name} cannot be written to ${folder}: ${why ?? messageOf(error)}`;
}

function codeOf(error: unknown): string {
  const code = (error as { code?: unknown } | null)?.code;
  return typeof code === 'string' ? code : '';
}

function messageOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
