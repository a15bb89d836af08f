import type { Implementation } from "../http/implement.ts";

/** Every implemented endpoint. A declared one that is missing here stops the start. */
export const features = (): Implementation[] => [];
