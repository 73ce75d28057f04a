# make demo: everything from lock files, then the main job on the demo.
# make test: everything that must hold. See CONTRIBUTING.md.
.PHONY: demo test build lint generate bench fuzz clean

build:
	go build -o scalewright ./cmd/scalewright

demo: build
	./scalewright make examples/foyer-rocket

test: lint
	tools/test
	$(MAKE) demo

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
