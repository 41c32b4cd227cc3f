// Generated from schemas/ by `npm run gen`. Do not edit.
export interface ShapeError {
  readonly instancePath: string;
  readonly keyword: string;
  readonly params: Readonly<Record<string, unknown>>;
}
export interface Validator {
  (data: unknown): boolean;
  errors?: readonly ShapeError[] | null;
}
export const head: Validator;
export const aircraft: Validator;
export const settings: Validator;
export const mapping: Validator;
export const takeOff: Validator;
export const point: Validator;
export const area: Validator;
export const survey: Validator;
export const corridor: Validator;
export const circle: Validator;
export const land: Validator;
export const hold: Validator;
export const battery: Validator;
