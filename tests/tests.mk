# How the tests are built and run. Every tests/ROOM/check_SUBJECT.c exports `Suite *ROOM_SUBJECT_suite(void)`; the runner
# is written from the file names. Other .c files of those folders are helpers and linked in too. tests/outside needs
# GEOS and GSL and is a runner of its own.

APART = outside fuzz speed faults
FOLDERS = $(filter-out $(APART),$(notdir $(patsubst %/,%,$(wildcard tests/*/))))
SUITES = $(sort $(foreach folder,$(FOLDERS),$(wildcard tests/$(folder)/*.c)))
OUTSIDE = $(sort $(wildcard tests/outside/*.c) $(filter-out tests/maths/check_%,$(wildcard tests/maths/*.c)))
FUZZERS = $(sort $(wildcard tests/fuzz/fuzz_*.c))
SPEED = $(sort $(wildcard tests/speed/*.c))

suite_name = $(subst /check_,_,$(patsubst tests/%.c,%,$(1)))_suite
TEST_CFLAGS = -Itests
TEST_LIBS = -Wl,--wrap=_mark_point $(shell pkg-config --libs check) $(LIBS) -lvterm
PROGRAM_O = $(ROOMS_O) $(BUILD)/libbandwright.a

$(BUILD)/tests/%.o: tests/%.c
	@mkdir -p $(@D)
	$(COMPILE) $(TEST_CFLAGS) -c $< -o $@

# $(1) = the check_*.c files: a C file that knows every suite among them.
define write_suites
	@mkdir -p $(@D)
	@{ echo '#include "runner.h"'; \
	$(foreach file,$(1),echo 'Suite *$(call suite_name,$(file))(void);';) \
	echo 'const runner_suite runner_suites[] = {'; \
	$(foreach file,$(1),echo '    {"$(file)", $(call suite_name,$(file))},';) \
	echo '    {NULL, NULL}};'; } > $@.new
	@cmp -s $@.new $@ || mv $@.new $@; rm -f $@.new
endef

$(BUILD)/runner_suites.c: FORCE
	$(call write_suites,$(filter $(foreach f,$(FOLDERS),tests/$(f)/check_%),$(SUITES)))

$(BUILD)/quick_suites.c: FORCE
	$(call write_suites,$(foreach file,$(QUICK),$(if $(findstring /check_,$(file)),$(file))))

$(BUILD)/outside_suites.c: FORCE
	$(call write_suites,$(filter tests/outside/check_%,$(OUTSIDE)))

$(BUILD)/%_suites.o: $(BUILD)/%_suites.c
	$(COMPILE) $(TEST_CFLAGS) -c $< -o $@

RUNNER_O = $(BUILD)/runner_suites.o $(BUILD)/tests/runner.o $(SUITES:%.c=$(BUILD)/%.o)
$(BUILD)/runner: $(RUNNER_O) $(PROGRAM_O)
	$(CC) $(CFLAGS) $(LDFLAGS) -o $@ $(RUNNER_O) $(PROGRAM_O) $(TEST_LIBS)

# What any compiler must come to the same figures with: suites without keys, screens and processes.
QUICK = $(filter $(foreach f,maths published shop desk show,tests/$(f)/%),$(SUITES))
QUICK_O = $(BUILD)/quick_suites.o $(BUILD)/tests/runner.o \
    $(patsubst %.c,$(BUILD)/%.o,$(QUICK) $(filter-out tests/bench/check_%,$(filter tests/bench/%,$(SUITES))))
$(BUILD)/runner_quick: $(QUICK_O) $(PROGRAM_O)
	$(CC) $(CFLAGS) $(LDFLAGS) -o $@ $(QUICK_O) $(PROGRAM_O) $(TEST_LIBS)

OUTSIDE_O = $(BUILD)/outside_suites.o $(BUILD)/tests/runner.o $(OUTSIDE:%.c=$(BUILD)/%.o)
$(BUILD)/runner_outside: $(OUTSIDE_O) $(PROGRAM_O)
	$(CC) $(CFLAGS) $(LDFLAGS) -o $@ $(OUTSIDE_O) $(PROGRAM_O) $(TEST_LIBS) -lgeos_c $(shell pkg-config --libs gsl)

$(BUILD)/fuzz_%: $(BUILD)/tests/fuzz/fuzz_%.o $(PROGRAM_O)
	$(CC) $(CFLAGS) -fsanitize=fuzzer -o $@ $^ $(LIBS)

$(BUILD)/speed_%: $(BUILD)/tests/speed/%.o $(PROGRAM_O)
	$(CC) $(CFLAGS) -o $@ $^ $(LIBS) -lutil -lvterm -lgeos_c

tests: $(BUILD)/runner
quick: $(BUILD)/runner_quick
outside: $(BUILD)/runner_outside
fuzzers: $(FUZZERS:tests/fuzz/%.c=$(BUILD)/%)
speed: $(SPEED:tests/speed/%.c=$(BUILD)/speed_%)

-include $(patsubst %.c,$(BUILD)/%.d,$(SUITES) $(OUTSIDE) $(FUZZERS) $(SPEED) tests/runner.c)

check:
	@.ci/need check
	@tests/check-all.sh

bench:
	@.ci/need check
	@$(MAKE) --no-print-directory BUILD=build/gcc-O2 CC=gcc CFLAGS="-O2 -g" all speed
	@tests/speed/bench.sh build/gcc-O2

soak:
	@.ci/need check
	@tests/soak.sh

FORCE:
.PHONY: tests quick outside fuzzers speed check bench soak FORCE
.SECONDARY:
