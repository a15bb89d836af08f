import { z } from "zod";
import {
  because,
  created,
  day,
  done,
  hours,
  id,
  latitude,
  line,
  longitude,
  queryInt,
  version,
} from "./common.ts";
import { endpoint } from "./endpoint.ts";
import { hold } from "./jobs.ts";
import { STAGES } from "./vocabulary.ts";

export const crew = z.object({
  id,
  name: z.string(),
  size: z.int(),
  skills: z.array(z.string()),
  baseLatitude: z.number().nullable(),
  baseLongitude: z.number().nullable(),
  weekdays: z.array(z.int()),
  members: z.array(z.object({ id, name: z.string(), lead: z.boolean() })),
  active: z.boolean(),
  version,
});
export type Crew = z.infer<typeof crew>;

export const sheetBooking = z.object({
  id,
  jobId: id,
  number: z.string(),
  title: z.string(),
  customerName: z.string(),
  city: z.string(),
  crewId: id,
  startOn: day,
  endOn: day,
  crewDays: z.int(),
  hours: z.string(),
  state: z.enum(["booked", "under_way", "finished"]),
  holds: z.array(hold),
  version,
});
export type SheetBooking = z.infer<typeof sheetBooking>;

const crewBody = {
  name: line(40),
  size: z.int().min(1, "At least one person.").max(20, "At most 20 people."),
  skills: z.array(line(40)).max(20, "At most 20 skills."),
  baseLatitude: latitude.nullable(),
  baseLongitude: longitude.nullable(),
  weekdays: z
    .array(z.int().min(1).max(7))
    .min(1, "A crew needs at least one working day a week.")
    .refine((v) => new Set(v).size === v.length, "Each weekday once."),
  members: z.array(z.strictObject({ name: line(80), lead: z.boolean() })).max(20, "At most 20 people."),
};
const crewId = z.strictObject({ crewId: id });
const bookingId = z.strictObject({ bookingId: id });

export const listCrews = endpoint({
  id: "listCrews",
  method: "GET",
  path: "/crews",
  tag: "crews",
  summary: "The crews.",
  access: "crews.read",
  response: z.object({ items: z.array(crew) }),
  status: 200,
});
export const addCrew = endpoint({
  id: "addCrew",
  method: "POST",
  path: "/crews",
  tag: "crews",
  summary: "Form a crew.",
  access: "crews.edit",
  idempotent: true,
  body: z.strictObject({
    ...crewBody,
    skills: crewBody.skills.default([]),
    baseLatitude: crewBody.baseLatitude.default(null),
    baseLongitude: crewBody.baseLongitude.default(null),
    weekdays: crewBody.weekdays.default([1, 2, 3, 4, 5]),
    members: crewBody.members.default([]),
  }),
  response: crew,
  status: 201,
});
export const updateCrew = endpoint({
  id: "updateCrew",
  method: "PATCH",
  path: "/crews/:crewId",
  tag: "crews",
  summary: "Change a crew. One with bookings ahead cannot be stood down.",
  access: "crews.edit",
  ifMatch: true,
  params: crewId,
  body: z.strictObject(crewBody).partial().extend({ active: z.boolean().optional() }),
  response: crew,
  status: 200,
});
export const getCrewSheet = endpoint({
  id: "getCrewSheet",
  method: "GET",
  path: "/crew-sheet",
  tag: "crews",
  summary: "Crews down, days across: bookings, closures and holds of a run of days.",
  access: "crews.read",
  query: z.strictObject({ from: day, days: queryInt(1, 120).default(28) }),
  response: z.object({
    from: day,
    days: z.array(z.object({ on: day, weekday: z.int() })),
    crews: z.array(crew),
    closures: z.array(z.object({ id, crewId: id.nullable(), on: day, why: z.string() })),
    bookings: z.array(sheetBooking),
    /** Jobs a crew could take: signed, nothing unresolved. */
    ready: z.array(
      z.object({
        jobId: id,
        number: z.string(),
        title: z.string(),
        customerName: z.string(),
        city: z.string(),
        hours: z.string(),
        stage: z.enum(STAGES),
        promisedTo: day.nullable(),
      }),
    ),
  }),
  status: 200,
});
export const addClosure = endpoint({
  id: "addClosure",
  method: "POST",
  path: "/calendar-closures",
  tag: "crews",
  summary: "Mark a day on which a crew, or everybody (crewId: null), does not work.",
  access: "crews.edit",
  idempotent: true,
  body: z.strictObject({ crewId: id.nullable().default(null), on: day, why: line(80) }),
  response: created,
  status: 201,
});
export const removeClosure = endpoint({
  id: "removeClosure",
  method: "DELETE",
  path: "/calendar-closures/:closureId",
  tag: "crews",
  summary: "Make a closed day a working day again.",
  access: "crews.edit",
  params: z.strictObject({ closureId: id }),
  response: done,
  status: 200,
});
export const bookCrew = endpoint({
  id: "bookCrew",
  method: "POST",
  path: "/jobs/:jobId/bookings",
  tag: "crews",
  summary:
    "Book a crew for a run of its workdays. Without crewDays the run follows from hours and crew size.",
  access: "bookings.edit",
  idempotent: true,
  params: z.strictObject({ jobId: id }),
  body: z.strictObject({
    crewId: id,
    startOn: day,
    crewDays: z.int().min(1, "At least one day.").max(120, "At most 120 days.").optional(),
  }),
  response: sheetBooking,
  status: 201,
});
export const moveBooking = endpoint({
  id: "moveBooking",
  method: "PATCH",
  path: "/bookings/:bookingId",
  tag: "crews",
  summary: "Move a booking to another crew or day, or change its length.",
  access: "bookings.edit",
  ifMatch: true,
  params: bookingId,
  body: z.strictObject({
    crewId: id.optional(),
    startOn: day.optional(),
    crewDays: z.int().min(1).max(120).optional(),
  }),
  response: sheetBooking,
  status: 200,
});
export const cancelBooking = endpoint({
  id: "cancelBooking",
  method: "POST",
  path: "/bookings/:bookingId/cancel",
  tag: "crews",
  summary: "Take a booking off the calendar before work has started.",
  access: "bookings.edit",
  idempotent: true,
  params: bookingId,
  body: z.strictObject({ why: because(300) }),
  response: done,
  status: 200,
});
export const startWork = endpoint({
  id: "startWork",
  method: "POST",
  path: "/bookings/:bookingId/start",
  tag: "crews",
  summary: "The crew has started. Refused while any hold stands.",
  access: "bookings.run",
  idempotent: true,
  params: bookingId,
  response: done,
  status: 200,
});
export const finishWork = endpoint({
  id: "finishWork",
  method: "POST",
  path: "/bookings/:bookingId/finish",
  tag: "crews",
  summary: "The work is finished; enter the hours it really took.",
  access: "bookings.run",
  idempotent: true,
  params: bookingId,
  body: z.strictObject({ actualHours: hours }),
  response: done,
  status: 200,
});
