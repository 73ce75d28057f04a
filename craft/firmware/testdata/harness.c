/* Runs a program for the ATmega328P on libsimavr and tells what its pins do.
 * In:  microseconds pin 0|R     a switch to ground closed, or open
 * Out: cycle pin 0|1|Z|U        low, high, floating, pulled up */
#include <simavr/avr_ioport.h>
#include <simavr/sim_avr.h>
#include <simavr/sim_hex.h>
#include <simavr/sim_io.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static avr_t *avr;
static char last[3][8];
static const char ports[] = "BCD";

/* Tells what changed of a port with these registers. */
static void tell(int p, unsigned ddr, unsigned port)
{
	for (int b = 0; b < 8; b++) {
		const int out = ddr >> b & 1, set = port >> b & 1;
		const char now = out ? (set ? '1' : '0') : (set ? 'U' : 'Z');
		if (now == last[p][b])
			continue;
		last[p][b] = now;
		printf("%llu %c%d %c\n", (unsigned long long)avr->cycle, ports[p], b, now);
	}
}

static void port_changed(struct avr_irq_t *irq, uint32_t value, void *param)
{
	avr_ioport_state_t s;
	const int p = (int)(intptr_t)param;
	(void)irq;
	avr_ioctl(avr, AVR_IOCTL_IOPORT_GETSTATE(ports[p]), &s);
	tell(p, s.ddr, value);
}

/* Raised before the register holds the new direction: the value has it. */
static void direction_changed(struct avr_irq_t *irq, uint32_t value, void *param)
{
	avr_ioport_state_t s;
	const int p = (int)(intptr_t)param;
	(void)irq;
	avr_ioctl(avr, AVR_IOCTL_IOPORT_GETSTATE(ports[p]), &s);
	tell(p, value, s.port);
}

static void never_sleep(avr_t *a, avr_cycle_count_t how_long) { (void)a, (void)how_long; }

static void set_switch(char port, int bit, int open)
{
	avr_ioport_external_t e = { .name = port, .mask = 1 << bit, .value = open << bit };
	avr_ioctl(avr, AVR_IOCTL_IOPORT_SET_EXTERNAL(port), &e);
	avr_raise_irq(avr_io_getirq(avr, AVR_IOCTL_IOPORT_GETIRQ(port), bit), open);
}

int main(int argc, char **argv)
{
	uint32_t size, base;
	uint8_t *code = argc == 3 ? read_ihex_file(argv[1], &size, &base) : NULL;
	if (!code || !(avr = avr_make_mcu_by_name("atmega328p")))
		return 1;
	avr_init(avr);
	avr->log = LOG_NONE;
	avr->frequency = 16000000;
	avr->sleep = never_sleep;
	memcpy(avr->flash + base, code, size);
	avr->codeend = avr->flashend;
	memset(last, 'Z', sizeof last);
	for (int p = 0; p < 3; p++) {
		avr_irq_register_notify(avr_io_getirq(avr, AVR_IOCTL_IOPORT_GETIRQ(ports[p]), IOPORT_IRQ_REG_PORT), port_changed, (void *)(intptr_t)p);
		avr_irq_register_notify(avr_io_getirq(avr, AVR_IOCTL_IOPORT_GETIRQ(ports[p]), IOPORT_IRQ_DIRECTION_ALL), direction_changed, (void *)(intptr_t)p);
	}
	for (int b = 0; b < 6; b++)
		set_switch('B', b, 1);
	const unsigned long long end = strtoull(argv[2], NULL, 10) * 16;
	unsigned long long at;
	char port, way;
	int bit;
	while (scanf("%llu %c%d %c", &at, &port, &bit, &way) == 4) {
		while (avr->cycle < at * 16)
			if (avr_run(avr) == cpu_Crashed)
				return 2;
		set_switch(port, bit, way == 'R');
	}
	while (avr->cycle < end)
		if (avr_run(avr) == cpu_Crashed)
			return 2;
	return 0;
}
