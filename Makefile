# Needs go, gcc (SQLite), node and npm. Everything else is fetched by their own locked lists.
#
#   make demo    build all and serve an invented season (stops with ctrl-C)
#   make test    every check there is: the same by hand and in CI
#   make build   bin/rowtally          make web    web/dist
#   make lint    format, vet, staticcheck, types
#   make bench   timings               make clean  remove what was built

SHELL := /bin/bash
GO ?= go
ADDR ?= 127.0.0.1:8080

export CGO_ENABLED := 1

go_files := $(shell find cmd internal migrations web -name node_modules -prune -o -name '*.go' -print)
web_files := $(shell find web/style web/src -type f) web/build.mjs web/tsconfig.json
pages := $(shell find web/page web/part -type f)
migrations := $(shell find migrations -type f)
truck_files := $(wildcard cmd/truck/*.go)

npm_stamp := web/node_modules/.package-lock.json
web_stamp := web/dist/manifest.json
wasm := $(if $(truck_files),web/wasm/truck.wasm web/wasm/wasm_exec.js)

# What is measured is measured without the race detector, one package after the other.
timed := MillionFixes|CostGrows|CostThatGrows|ThreeBareScans|BareDrawing|FiveHundredInvoices|BillingCutOff|IsQuick|AreQuick|IsTheTruth|FollowsADragged

.PHONY: all demo test build web lint format vet staticcheck types bench clean
all: build

demo: build
	bin/rowtally demo --addr $(ADDR)

build: bin/rowtally
bin/rowtally: $(go_files) $(pages) $(migrations) $(web_stamp) go.mod go.sum
	$(GO) build -trimpath -o $@ ./cmd/rowtally

web: $(web_stamp)
$(web_stamp): $(npm_stamp) $(web_files) $(wasm)
	node web/build.mjs

$(npm_stamp): web/package.json web/package-lock.json
	cd web && npm ci --ignore-scripts --no-audit --no-fund
	@touch $@

# The truck page works its recipe out with the same packages, compiled for the browser.
# Inlining of our own packages alone keeps the download a tenth smaller, and as fast.
web/wasm/truck.wasm: $(go_files) go.mod go.sum
	@mkdir -p $(@D)
	CGO_ENABLED=0 GOOS=js GOARCH=wasm $(GO) build -trimpath -gcflags=all=-l -gcflags=math= -gcflags=rowtally/...= -ldflags '-s -w' -o $@ ./cmd/truck

web/wasm/wasm_exec.js: go.mod
	@mkdir -p $(@D)
	cp "$$($(GO) env GOROOT)/lib/wasm/wasm_exec.js" $@
	@touch $@

test: web lint
	$(GO) test -race -timeout 19m ./...
	$(GO) test -p 1 -run '$(timed)' ./internal/rows ./internal/sown ./internal/job ./internal/paper ./internal/walk ./cmd/rowtally

lint: format vet staticcheck types

format:
	@unformatted=$$(gofmt -l cmd internal migrations web/*.go); \
	if [[ -n "$$unformatted" ]]; then echo "not formatted by gofmt:"; echo "$$unformatted"; exit 1; fi

vet: web
	$(GO) vet ./...
	$(if $(truck_files),CGO_ENABLED=0 GOOS=js GOARCH=wasm $(GO) vet ./cmd/truck)

staticcheck: web
	$(GO) tool staticcheck ./...

types: $(npm_stamp)
	cd web && npx --no-install tsc --noEmit

bench: web
	$(GO) test -run '^$$' -bench . -benchmem ./...

clean:
	rm -rf bin web/wasm
	find web/dist -mindepth 1 ! -name .keep -delete
