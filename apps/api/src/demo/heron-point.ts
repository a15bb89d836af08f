import { bookedJobs, underWay } from "./heron-crews.ts";
import { firstPasses, inquiries, reviewed } from "./heron-early.ts";
import { accepted, closedJobs, quoted } from "./heron-signed.ts";
import { history } from "./history.ts";
import type { World } from "./world.ts";

/** Nine crews around the upper Chesapeake, where shade, road salt and missing flashing rot ledgers, stair feet and post bases. */
export function tellHeronPoint(world: World): void {
  // What crews do now is placed before the history, which is fitted in around it.
  underWay(world);
  bookedJobs(world);
  const past = history(world, 45);
  inquiries(world, past);
  firstPasses(world);
  reviewed(world);
  quoted(world);
  accepted(world);
  closedJobs(world);
}
