export interface Coordinates {
  latitude: number | null;
  longitude: number | null;
}

/** "38.9784, -76.4922" to decimal degrees, "" to none. Null when it is not a place on earth. */
export function parseCoordinates(text: string): Coordinates | null {
  if (text.trim() === "") return { latitude: null, longitude: null };
  const match = /^\s*(-?\d{1,3}(?:\.\d+)?)\s*[,;\s]\s*(-?\d{1,3}(?:\.\d+)?)\s*$/.exec(
    text.replaceAll("−", "-"),
  );
  if (!match) return null;
  const [latitude, longitude] = [Number(match[1]), Number(match[2])];
  return Math.abs(latitude) <= 90 && Math.abs(longitude) <= 180 ? { latitude, longitude } : null;
}

export const editCoordinates = ({ latitude, longitude }: Coordinates): string =>
  latitude === null || longitude === null ? "" : `${latitude}, ${longitude}`;
