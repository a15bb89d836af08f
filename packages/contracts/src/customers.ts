import { z } from "zod";
import {
  cursor,
  done,
  email,
  id,
  latitude,
  line,
  longitude,
  note,
  page,
  phone,
  queryInt,
  stateCode,
  version,
} from "./common.ts";
import { endpoint } from "./endpoint.ts";

export const propertyInput = z.strictObject({
  street: line(120),
  city: line(80),
  state: stateCode,
  postalCode: z
    .string()
    .trim()
    .regex(/^\d{5}(-\d{4})?$/, "Five digits, like 21401."),
  latitude: latitude.nullable().default(null),
  longitude: longitude.nullable().default(null),
  yearBuilt: z.int().min(1600, "1600 or later.").max(2099).nullable().default(null),
  accessNotes: note(1000).default(""),
  /** Within 300 ft of salt water, or otherwise wet with salt. */
  saltExposure: z.boolean().default(false),
});
export type PropertyInput = z.output<typeof propertyInput>;
export const property = z.object({
  id,
  street: z.string(),
  city: z.string(),
  state: z.string(),
  postalCode: z.string(),
  latitude: z.number().nullable(),
  longitude: z.number().nullable(),
  yearBuilt: z.int().nullable(),
  accessNotes: z.string(),
  saltExposure: z.boolean(),
  version,
});
export type Property = z.infer<typeof property>;

export const customerInput = z.strictObject({
  name: line(120),
  phone: phone.nullable().default(null),
  email: email.nullable().default(null),
  notes: note(2000).default(""),
});
export type CustomerInput = z.output<typeof customerInput>;
export const customer = z.object({
  id,
  name: z.string(),
  phone: z.string().nullable(),
  email: z.string().nullable(),
  notes: z.string(),
  version,
});
export type Customer = z.infer<typeof customer>;
export const customerDetail = customer.extend({
  properties: z.array(property),
  jobs: z.array(z.object({ id, number: z.string(), title: z.string(), stage: z.string() })),
});

const customerId = z.strictObject({ customerId: id });

export const listCustomers = endpoint({
  id: "listCustomers",
  method: "GET",
  path: "/customers",
  tag: "customers",
  summary: "Customers by name, or those a search finds by name, phone or mail.",
  access: "customers.read",
  query: z.strictObject({
    search: line(80).optional(),
    after: cursor.optional(),
    limit: queryInt(1, 100).default(50),
  }),
  response: page(customer.extend({ jobCount: z.int() })),
  status: 200,
});
export const getCustomer = endpoint({
  id: "getCustomer",
  method: "GET",
  path: "/customers/:customerId",
  tag: "customers",
  summary: "One customer with properties and jobs.",
  access: "customers.read",
  params: customerId,
  response: customerDetail,
  status: 200,
  etag: true,
});
export const updateCustomer = endpoint({
  id: "updateCustomer",
  method: "PATCH",
  path: "/customers/:customerId",
  tag: "customers",
  summary: "Correct a customer's name, phone, mail or notes.",
  access: "customers.edit",
  ifMatch: true,
  etag: true,
  params: customerId,
  body: z.strictObject({
    name: line(120).optional(),
    phone: phone.nullable().optional(),
    email: email.nullable().optional(),
    notes: note(2000).optional(),
  }),
  response: customerDetail,
  status: 200,
});
export const updateProperty = endpoint({
  id: "updateProperty",
  method: "PATCH",
  path: "/properties/:propertyId",
  tag: "customers",
  summary: "Correct what is known of a property.",
  access: "customers.edit",
  ifMatch: true,
  etag: true,
  params: z.strictObject({ propertyId: id }),
  body: z.strictObject({
    street: line(120).optional(),
    city: line(80).optional(),
    state: stateCode.optional(),
    postalCode: propertyInput.shape.postalCode.optional(),
    latitude: latitude.nullable().optional(),
    longitude: longitude.nullable().optional(),
    yearBuilt: z.int().min(1600).max(2099).nullable().optional(),
    accessNotes: note(1000).optional(),
    saltExposure: z.boolean().optional(),
  }),
  response: property,
  status: 200,
});
export const listDuplicates = endpoint({
  id: "listDuplicates",
  method: "GET",
  path: "/customers/duplicates",
  tag: "customers",
  summary: "Pairs of customers that share a normalised phone number or mail address.",
  access: "customers.merge",
  response: z.object({
    items: z.array(
      z.object({ keep: customer, other: customer, shared: z.array(z.enum(["phone", "email"])) }),
    ),
  }),
  status: 200,
});
export const mergeCustomers = endpoint({
  id: "mergeCustomers",
  method: "POST",
  path: "/customers/:customerId/merge",
  tag: "customers",
  summary: "Fold another customer into this one: properties and jobs move, the other is kept as merged.",
  access: "customers.merge",
  idempotent: true,
  params: customerId,
  body: z.strictObject({ otherId: id }),
  response: customerDetail,
  status: 200,
});
export const unmergeCustomer = endpoint({
  id: "unmergeCustomer",
  method: "POST",
  path: "/customers/:customerId/unmerge",
  tag: "customers",
  summary: "Undo a merge: the customer folded in gets its own properties and jobs back.",
  access: "customers.merge",
  idempotent: true,
  params: customerId,
  body: z.strictObject({ otherId: id }),
  response: done,
  status: 200,
});
