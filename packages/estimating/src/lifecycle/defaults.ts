import data from "../../../../shared/life-cycle.json" with { type: "json" };

/** How long a finish, an upkeep or a material lasts, in years, with where the figure comes from. */
export interface Life {
  id: string;
  words: string;
  years: { low: number; high: number };
  source: string;
  basis: string;
}

/** Horizon and real discount rate to start from; sources in shared/life-cycle.json. */
export const LIFE_CYCLE_DEFAULTS = {
  years: data.defaults.years.value,
  discountBp: data.defaults.discount_bp.value,
} as const;

/** Lives of finishes, of upkeep and of materials, to start from; the company's own experience comes first. */
export const LIVES: { finishes: readonly Life[]; upkeep: readonly Life[]; materials: readonly Life[] } = {
  finishes: data.finishes,
  upkeep: data.upkeep,
  materials: data.service_lives,
};
