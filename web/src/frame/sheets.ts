// The sheets of a build, in the order of the job: the register above the drawing.

export const sheets = [
  { id: 'verdict', name: 'Verdict' },
  { id: 'reference', name: 'Reference' },
  { id: 'size', name: 'Size' },
  { id: 'sheet', name: 'Sheet' },
  { id: 'lights', name: 'Lights & sound' },
  { id: 'calendar', name: 'Calendar' },
  { id: 'book', name: 'Book' },
  { id: 'shop', name: 'Shop' },
] as const;

export type SheetID = (typeof sheets)[number]['id'];

export function isSheet(id: string): id is SheetID {
  return sheets.some((s) => s.id === id);
}
