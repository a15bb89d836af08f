import { existsSync } from "node:fs";
import cookie from "@fastify/cookie";
import helmet from "@fastify/helmet";
import rateLimit from "@fastify/rate-limit";
import fastifyStatic from "@fastify/static";
import Fastify, { type FastifyInstance, LogController } from "fastify";
import { features } from "./features/index.ts";
import { closeGently } from "./http/closing.ts";
import { sendProblem } from "./http/errors.ts";
import { registerLive } from "./http/live.ts";
import { openApiDocument } from "./http/openapi.ts";
import { registerReference } from "./http/reference.ts";
import { register } from "./http/register.ts";
import { Problem } from "./problem.ts";
import type { Services } from "./services.ts";
import { openSolver } from "./solver/pool.ts";

const PREFIX = "/api/v1";

/** Builds the server: the API below /api/v1 and, where a built web app is given, its files beside it. */
export async function buildApp(
  services: Services,
  options: { webRoot?: string } = {},
): Promise<FastifyInstance> {
  const { config } = services;
  const app = Fastify({
    logger: config.LOG_LEVEL === "silent" ? false : { level: config.LOG_LEVEL },
    // Bodies are never logged: names and addresses do not belong in logs.
    logController: new LogController({ disableRequestLogging: true }),
    bodyLimit: 256 * 1024,
    trustProxy: config.TRUST_PROXY === "" ? false : config.TRUST_PROXY.split(","),
    genReqId: () => crypto.randomUUID(),
    routerOptions: { maxParamLength: 200 },
    // Addresses that cannot be read get the same kind of answer as everything else.
    frameworkErrors: sendProblem,
    forceCloseConnections: "idle",
  });
  closeGently(app);
  app.setErrorHandler(sendProblem);
  app.setNotFoundHandler((request, reply) => {
    if (options.webRoot && request.method === "GET" && !request.url.startsWith("/api/")) {
      return reply.header("Cache-Control", "no-cache").sendFile("index.html");
    }
    return sendProblem(new Problem("not-found", "There is nothing at this address."), request, reply);
  });

  await app.register(helmet, {
    contentSecurityPolicy: {
      useDefaults: false,
      directives: {
        defaultSrc: ["'none'"],
        scriptSrc: ["'self'"],
        styleSrc: ["'self'"],
        imgSrc: ["'self'", "data:"],
        fontSrc: ["'self'"],
        connectSrc: ["'self'"],
        manifestSrc: ["'self'"],
        formAction: ["'self'"],
        baseUri: ["'none'"],
        frameAncestors: ["'none'"],
      },
    },
    strictTransportSecurity: config.PUBLIC_URL.startsWith("https://"),
    crossOriginEmbedderPolicy: false,
  });
  await app.register(cookie);
  await app.register(rateLimit, {
    max: config.RATE_LIMIT_PER_MINUTE,
    timeWindow: "1 minute",
    errorResponseBuilder: (_request, context) =>
      new Problem("too-many", `Wait ${Math.ceil(context.ttl / 1000)} seconds, then try again.`, {
        retryAfter: Math.ceil(context.ttl / 1000),
      }),
  });

  const implementations = features();
  const solver = openSolver();
  app.addHook("onClose", () => solver.close());

  await app.register(
    async (api) => {
      api.addHook("onSend", async (_request, reply) => {
        if (!reply.hasHeader("Cache-Control")) reply.header("Cache-Control", "no-store");
      });
      for (const implementation of implementations) register(api, implementation, { ...services, solver });
      registerLive(api, services.database);
      const document = openApiDocument();
      api.get("/openapi.json", async () => document);
    },
    { prefix: PREFIX },
  );
  await registerReference(app);
  app.get("/healthz", { config: { rateLimit: false } }, async () => {
    await services.database.findCompanies("slug", "");
    return { ok: true };
  });

  if (options.webRoot) {
    if (!existsSync(options.webRoot))
      throw new Error(`The web app is not built: ${options.webRoot} is missing.`);
    await app.register(fastifyStatic, {
      root: options.webRoot,
      wildcard: false,
      setHeaders: (response, path) => {
        // Built files carry a hash of their content in the name; the page itself must always be asked for.
        response.header(
          "Cache-Control",
          path.includes("/assets/") ? "public, max-age=31536000, immutable" : "no-cache",
        );
      },
    });
  }
  return app;
}
