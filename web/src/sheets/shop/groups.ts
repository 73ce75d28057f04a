import type { components } from '../../api/api.gen';

type Declared = components['schemas']['Declared'];

export interface Member {
  id: string;
  name: string;
  values: (Declared & { label: string })[];
}

export interface Group {
  name: string;
  members: Member[];
}

const groups: readonly (readonly [string, string])[] = [
  ['printers', 'Printers'],
  ['people', 'People and hours'],
  ['filaments', 'Filaments'],
  ['', 'Everything else'],
];

// Units that a key ends in, as words.
const units: readonly (readonly [RegExp, string])[] = [
  [/_mm_s2$/, ', mm/s²'],
  [/_mm3_s$/, ', mm³/s'],
  [/_mm_s$/, ', mm/s'],
  [/_g_cm3$/, ', g/cm³'],
  [/_c$/, ', °C'],
];

// groupsOf sorts what shop.yaml says by what it is about.
export function groupsOf(values: readonly Declared[]): Group[] {
  const members = new Map<string, Map<string, Member>>();
  for (const v of values) {
    if (v.at.file !== 'shop.yaml' || v.at.path === 'schema') continue;
    const keys = v.at.path.split('.');
    const known = groups.some(([k]) => k === keys[0]) && keys.length > 2;
    const group = known ? (keys[0] ?? '') : '';
    const id = known ? (keys[1] ?? '') : 'shop';
    const label = labelOf(known ? keys.slice(2) : keys);
    const of = members.get(group) ?? new Map<string, Member>();
    members.set(group, of);
    const member = of.get(id) ?? { id, name: known ? id : 'The shop', values: [] };
    of.set(id, member);
    if (label === 'name') member.name = v.text;
    member.values.push({ ...v, label });
  }
  return groups.flatMap(([key, name]) => {
    const of = members.get(key);
    return of ? [{ name, members: [...of.values()] }] : [];
  });
}

export function labelOf(keys: readonly string[]): string {
  const words = keys.map((key) => {
    if (/^\d+$/.test(key)) return String(Number(key) + 1);
    const unit = units.find(([ends]) => ends.test(key));
    const plain = unit ? key.replace(unit[0], '') : key;
    return plain.replaceAll('_', ' ') + (unit?.[1] ?? '');
  });
  return words.join(' ');
}
