import type { FastifyInstance } from "fastify";
import { openApiDocument } from "./openapi.ts";
import { type ApiDocument, REFERENCE_CSS, referencePage } from "./reference-page.ts";

/**
 * The readable page of the API at /api/docs, made of the same document that programs read. Plain text and a style
 * sheet of its own, so the server's strict content policy holds here too.
 */
export async function registerReference(app: FastifyInstance): Promise<void> {
  const page = referencePage(openApiDocument() as unknown as ApiDocument);
  app.get("/api/docs", async (_request, reply) =>
    reply.type("text/html; charset=utf-8").header("Cache-Control", "no-cache").send(page),
  );
  app.get("/api/docs/reference.css", async (_request, reply) =>
    reply.type("text/css; charset=utf-8").header("Cache-Control", "no-cache").send(REFERENCE_CSS),
  );
}
