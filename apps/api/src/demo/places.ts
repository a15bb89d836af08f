import type { Random } from "./random.ts";

export interface Town {
  city: string;
  state: string;
  postalCode: string;
  /** Middle of the town in decimal degrees, from memory, good to a mile or two. */
  latitude: number;
  longitude: number;
  /** Streets near tidal water. */
  salt: boolean;
}

const town = (
  state: string,
  city: string,
  postalCode: string,
  latitude: number,
  longitude: number,
  salt = false,
): Town => ({ city, state, postalCode, latitude, longitude, salt });

export const CHESAPEAKE: readonly Town[] = [
  town("MD", "Annapolis", "21401", 38.978, -76.503, true),
  town("MD", "Annapolis", "21403", 38.948, -76.491, true),
  town("MD", "Severna Park", "21146", 39.07, -76.545, true),
  town("MD", "Arnold", "21012", 39.032, -76.503, true),
  town("MD", "Pasadena", "21122", 39.12, -76.545, true),
  town("MD", "Edgewater", "21037", 38.937, -76.556, true),
  town("MD", "Baltimore", "21214", 39.352, -76.564),
  town("MD", "Baltimore", "21228", 39.282, -76.692),
  town("MD", "Catonsville", "21228", 39.272, -76.735),
  town("MD", "Towson", "21204", 39.402, -76.606),
  town("MD", "Glen Burnie", "21061", 39.163, -76.625),
  town("MD", "Crofton", "21114", 39.008, -76.68),
  town("MD", "Columbia", "21045", 39.204, -76.85),
  town("MD", "Ellicott City", "21043", 39.267, -76.8),
  town("MD", "Millersville", "21108", 39.06, -76.645),
  town("MD", "Odenton", "21113", 39.084, -76.7),
];

export const EAST_BAY: readonly Town[] = [
  town("CA", "Oakland", "94611", 37.829, -122.228),
  town("CA", "Berkeley", "94707", 37.893, -122.276),
  town("CA", "El Cerrito", "94530", 37.919, -122.303),
  town("CA", "Richmond", "94805", 37.941, -122.325),
  town("CA", "Alameda", "94501", 37.768, -122.262, true),
  town("CA", "Orinda", "94563", 37.882, -122.187),
  town("CA", "Lafayette", "94549", 37.889, -122.118),
  town("CA", "San Leandro", "94577", 37.722, -122.158),
];

/** Invented street names. */
const STREETS = [
  "Teal Hollow",
  "Lanternfish",
  "Oxbow Bend",
  "Cattail Reach",
  "Pennant",
  "Marlinspike",
  "Quillback",
  "Saltlick",
  "Sedge Warbler",
  "Sandbar",
  "Copperhead Oak",
  "Slipknot",
  "Windlass",
  "Rosehip",
  "Bayberry Turn",
  "Driftline",
  "Old Cooperage",
  "Tupelo Shade",
  "Hempstalk",
  "Capstan",
  "Thimbleberry",
  "Kingfisher Steps",
  "Goosefoot",
  "Plumb Bob",
  "Millrace Hollow",
  "Foxglove Rise",
  "Barnacle",
  "Horsetail",
  "Sawpit",
  "Whetstone Hollow",
] as const;
const KINDS = ["Lane", "Court", "Road", "Way", "Street", "Drive"] as const;

const ACCESS = [
  "",
  "",
  "",
  "Side gate is 34 in wide; carry lumber round by the left.",
  "Shaded all day; the ground behind the house stays wet.",
  "Dog in the yard, ring first.",
  "Drive is steep; deliver at the street.",
  "Plough throws road salt against the front steps.",
  "Park on the street, not on the drain field.",
] as const;

export interface Place extends Omit<Town, "salt"> {
  street: string;
  yearBuilt: number | null;
  accessNotes: string;
  saltExposure: boolean;
}

/** A house in a town, its position scattered within about a mile. */
export function placeIn(random: Random, { salt, ...where }: Town): Place {
  const scatter = (degrees: number) => Number((degrees + (random.next() - 0.5) * 0.024).toFixed(6));
  return {
    ...where,
    latitude: scatter(where.latitude),
    longitude: scatter(where.longitude),
    street: `${random.whole(3, 899)} ${random.pick(STREETS)} ${random.pick(KINDS)}`,
    yearBuilt: random.chance(0.12) ? null : random.whole(1924, 2009),
    accessNotes: random.pick(ACCESS),
    saltExposure: salt && random.chance(0.45),
  };
}
