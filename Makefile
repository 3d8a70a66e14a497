# Axleloft. `make run` and `make test` need nothing but Go, git and make; the Debian packages they lack they install (as root, or through sudo).

DEMO := assets/jobs/orchard-sprayer.axleloft
# The revision is not stamped: a copy of the tree, or one owned by another user, builds the same.
export GOFLAGS := $(shell go env GOFLAGS) -buildvcs=false
GO_FILES = $(shell git ls-files -co --exclude-standard '*.go' 2>/dev/null || find . -name '*.go')
# What builds without a C compiler; a test holds that it stays so.
PURE := ./geometry/... ./plotting/... ./app/... ./cmd/axlesheet
FUZZTIME ?= 10s

.PHONY: help run window sheet test lint bench long fuzz clean

help:
	@echo "make run     installs what is missing, builds, and opens the window on the demo job; without a display, the demo through axlesheet, into out/"
	@echo "make test    installs what the tests need and runs everything"
	@echo "make window  builds bin/axleloft          make sheet  builds bin/axlesheet"
	@echo "make bench   benchmarks, and positions timed beside Eigen and Simbody, proofs beside FCL"
	@echo "make long    a million random positions a job against the proofs, and other long checks (about an hour)"
	@echo "make fuzz    every fuzz test for FUZZTIME ($(FUZZTIME)) each"
	@echo "make clean   removes bin/, build/ and out/"

run:
	@.ci/packages sheet
	@if why=$$(CGO_ENABLED=0 go run ./.ci/display 2>/dev/null); then \
		$(MAKE) --no-print-directory window && echo "Opening the window" && exec bin/axleloft; \
	elif [ -n "$$why" ]; then \
		echo "$$why So no window opens; instead the demo goes through axlesheet, into out/."; \
		$(MAKE) --no-print-directory demo; \
	else \
		echo "go could not be run; this needs Go 1.26 or later on the path." >&2; exit 1; \
	fi

# The demo without a window: findings on the terminal, every chart and the sweep as files, each named.
.PHONY: demo
demo: sheet
	@mkdir -p out
	@echo; bin/axlesheet check $(DEMO)
	@echo; bin/axlesheet plot $(DEMO) --all out/
	@bin/axlesheet sweep $(DEMO) --format csv --out out/orchard-sprayer-sweep.csv && echo out/orchard-sprayer-sweep.csv

window:
	@.ci/packages window
	@echo "Building bin/axleloft (the first time some minutes, most of it C)"
	@mkdir -p bin && CGO_ENABLED=1 go build -o bin/axleloft ./cmd/axleloft

sheet:
	@.ci/packages sheet
	@echo "Building bin/axlesheet"
	@mkdir -p bin && CGO_ENABLED=0 go build -o bin/axlesheet ./cmd/axlesheet

lint:
	@echo "gofmt"; bad=$$(gofmt -l $(GO_FILES)); [ -z "$$bad" ] || { echo "not formatted by gofmt:" $$bad; exit 1; }
	@echo "build without C"; CGO_ENABLED=0 go build $(PURE)
	@echo "go vet"; go vet ./... ./.ci/display ./testdata/reference/gaps

# The window's tests come last and alone: they drive a real window and want the machine to themselves.
test:
	@.ci/packages tests
	@$(MAKE) --no-print-directory lint
	@export AXLELOFT_REQUIRE_REFERENCES=1 AXLELOFT_WINDOW_TESTS=1; status=0; \
	go test -count=1 -vet=off -timeout 12m $$(go list ./... | grep -v '/cmd/axleloft$$') || status=1; \
	go test -count=1 -vet=off -timeout 12m ./cmd/axleloft || status=1; \
	exit $$status

bench:
	@.ci/packages bench
	go test -run '^$$' -bench . -benchmem -benchtime 1s ./geometry/... ./app/... ./plotting/...
	@echo; echo "Positions beside the C++ references, ns each, both run now:"
	@mkdir -p build && testdata/reference/run.sh $(CURDIR)/build
	@echo; echo "The proof of every pair's smallest gap beside sampling with FCL, both run now:"
	@testdata/reference/gaps.sh $(CURDIR)/build

# What takes too long for every day: a million random positions against every bound and every box, 1e5 pairs of every kind against FCL, dense searches of 401 x 401 positions.
long:
	@.ci/packages tests
	AXLELOFT_LONG=1 AXLELOFT_REQUIRE_REFERENCES=1 go test -count=1 -timeout 6h -v -run '^(TestNoPosition|TestAgainstFCL|TestDenseSearch|TestProve|TestNothingLies|TestSolids|TestSame|TestKeepOut|TestSections)' ./geometry/cell ./geometry/clearance ./geometry/limits ./geometry/shape ./geometry/swept ./geometry/vessel

fuzz:
	@for package in $$(go list ./geometry/... ./plotting/... ./app/...); do \
		for name in $$(go test -list '^Fuzz' $$package | grep '^Fuzz'); do \
			go test -run '^$$' -fuzz "^$$name$$" -fuzztime $(FUZZTIME) $$package || exit 1; \
		done; \
	done

clean:
	rm -rf bin build out
