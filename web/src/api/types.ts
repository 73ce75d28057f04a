import type { components } from './api.gen';

// Names for the shapes of the API's contract that the page speaks of.
type S = components['schemas'];

export type Act = S['Act'];
export type AsOf = S['AsOf'];
export type Board = S['Board'];
export type Candidate = S['Candidate'];
export type Change = S['Change'];
export type Conflict = S['Conflict'];
export type Consequences = S['Consequences'];
export type Cure = S['Cure'];
export type Finding = S['Finding'];
export type Handle = S['Handle'];
export type Lane = S['Lane'];
export type LaneHead = S['LaneHead'];
export type LaneReadings = S['LaneReadings'];
export type LaneTable = S['LaneTable'];
export type LogEntry = S['LogEntry'];
export type PieceLine = S['PieceLine'];
export type PiecePage = S['PiecePage'];
export type Problem = S['Problem'];
export type Reading = S['Reading'];
export type Scene = S['Scene'];
export type SceneItem = S['SceneItem'];
export type SheetTab = S['SheetTab'];
export type Show = S['Show'];
export type TitleCell = S['TitleCell'];
export type Today = S['Today'];
export type VerdictSheet = S['VerdictSheet'];
