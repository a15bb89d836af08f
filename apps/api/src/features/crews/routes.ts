import { crews as contract } from "@ledgerboard/contracts";
import { type Implementation, implement } from "../../http/implement.ts";
import { bookCrew, cancelBooking, moveBooking } from "./bookings.ts";
import { addClosure, removeClosure } from "./closures.ts";
import { addCrew, updateCrew } from "./crews.ts";
import { listCrews } from "./queries.ts";
import { getCrewSheet } from "./sheet.ts";
import { finishWork, startWork } from "./work.ts";

export const crewRoutes: Implementation[] = [
  implement(contract.listCrews, async ({ db }) => ({ items: await listCrews(db) })),
  implement(contract.addCrew, ({ db, body }) => addCrew(db, body)),
  implement(contract.updateCrew, ({ db, params, version, body }) =>
    updateCrew(db, params.crewId, version, body),
  ),
  implement(contract.getCrewSheet, ({ db, query, today }) => getCrewSheet(db, query, today)),
  implement(contract.addClosure, ({ db, body }) => addClosure(db, body)),
  implement(contract.removeClosure, ({ db, params }) => removeClosure(db, params.closureId)),
  implement(contract.bookCrew, ({ db, params, body, today }) => bookCrew(db, params.jobId, body, today)),
  implement(contract.moveBooking, ({ db, params, version, body, today }) =>
    moveBooking(db, params.bookingId, version, body, today),
  ),
  implement(contract.cancelBooking, ({ db, params, body, today, services }) =>
    cancelBooking(db, params.bookingId, body.why, today, services.now()),
  ),
  implement(contract.startWork, ({ db, who, params, today }) => startWork(db, who, params.bookingId, today)),
  implement(contract.finishWork, ({ db, who, params, body, today }) =>
    finishWork(db, who, params.bookingId, body.actualHours, today),
  ),
];
