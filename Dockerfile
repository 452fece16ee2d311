# One image for the API and the worker; docker-compose.yml says which of the two a container is.
FROM node:22-bookworm-slim AS build
WORKDIR /app
COPY package.json package-lock.json ./
# Applied by npm ci.
COPY patches patches
RUN npm ci
COPY tsconfig.json tsconfig.build.json ./
COPY api api
COPY worker worker
COPY db db
RUN npm run build && npm prune --omit=dev

FROM node:22-bookworm-slim
WORKDIR /app
ENV NODE_ENV=production
COPY --from=build /app/package.json ./
COPY --from=build /app/node_modules node_modules
COPY --from=build /app/dist dist
COPY examples examples
USER node
EXPOSE 8080
CMD ["node", "dist/api/main.js"]
