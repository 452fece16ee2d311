import { readFolderJob } from '../../worker/price/folder/folderJob.ts';
import { disk, foldersOn } from './folders.ts';

/** The three tables of a first loom. */
export const FIRST = {
  'wires.csv': [
    'wire,cable type,size,colour,from,to,length mm,from terminal,to terminal',
    'W1,pvc,14/0.30,green,switch.2,lamp,620,blade-s,ring-s',
    'W2,pvc,14/0.30,black,lamp,earth,300,ring-s,ring-s',
    '',
  ].join('\n'),
  'suppliers.csv': 'code,name,currency,postage\nash,Ash,EUR,"3.95, free from 40"\n',
  'offers.csv': [
    'code,supplier,sold by,part,price,pieces in a pack',
    'g,ash,metre,pvc 14/0.30 green,0.42,',
    'b,ash,metre,pvc 14/0.30 black,0.42,',
    'r,ash,pack,ring-s,1.20,10',
    'l,ash,pack,blade-s,1.20,10',
    '',
  ].join('\n'),
};

/** A folder of such tables as a job. */
export async function read(files: Record<string, string>, asOf?: string) {
  const folders = foldersOn(disk('Rear loom!', files));
  return readFolderJob('Rear loom!', (await folders.names('Rear loom!')) ?? [], folders, asOf);
}
