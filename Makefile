# make demo: everything from lock files, then the main job on the demo.
# make test: everything that must hold. See CONTRIBUTING.md.
.PHONY: demo test build page page-test lint generate bench fuzz clean

build:
	go build -o scalewright ./cmd/scalewright

# The page, embedded by the next build; Node 20 or newer, packages by the lock file.
page:
	cd web && npm ci --no-audit --no-fund && npm run build

# What holds of the page: form, types, units, its journeys in Chromium.
page-test: page build
	web/e2e/run

demo: build
	./scalewright make examples/foyer-rocket

# The demo first: tools/test goes on from its photograph as measured.
test: lint
	$(MAKE) demo
	tools/test

lint:
	tools/lint

generate:
	go generate ./...

fuzz:
	tools/fuzz

bench:
	bench/run

clean:
	rm -rf scalewright examples/*/out
