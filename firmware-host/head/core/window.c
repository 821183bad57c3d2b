#include "window.h"

#include <stddef.h>
#include <string.h>

#define US_PER_MS 1000

void window_init(struct window *window, int32_t tokens_after) {
  memset(window, 0, sizeof *window);
  window->last_token = tokens_after;
}

int32_t window_grant(struct window *window, const struct window_inputs *in,
                     int64_t intent_number) {
  if (!in->permit_held) {
    return 0;
  }
  window->last_token = window->last_token == TOKEN_MAX ? 1 : window->last_token + 1;
  window->live_token = window->last_token;
  window->live_intent = intent_number;
  window->live_from_ms = in->clock_ms;
  return window->live_token;
}

static bool current_zero(const struct window_inputs *in) {
  return in->coil_ma < CURRENT_ZERO_MA && in->coil_ma > -CURRENT_ZERO_MA;
}

static bool wiring_ready(const struct window *window, const struct window_inputs *in) {
  return !window->open && !window->report_due && in->fill_released && in->bleed_open &&
         in->clock_ms - window->changeover_moved_at_ms >= CONTACTS_STABLE_MS && !in->fire_high &&
         current_zero(in);
}

static enum refusal refusal(const struct window *window, const struct window_inputs *in,
                            const struct request *asked, bool token_good) {
  if (!in->permit_held) {
    return REFUSAL_NO_PERMIT;
  }
  if (!token_good) {
    return REFUSAL_BAD_TOKEN;
  }
  if (!wiring_ready(window, in)) {
    return REFUSAL_NOT_SAFE;
  }
  return in->bank_mv > asked->bank_max_mv || in->bank_mv > BANK_CAP_MV ? REFUSAL_BANK_TOO_HIGH
                                                                         : REFUSAL_NONE;
}

enum refusal window_open(struct window *window, const struct window_inputs *in,
                         const struct request *asked) {
  const bool presented = window->live_token != 0 && asked->token == window->live_token;
  const bool good = presented && asked->intent_number == window->live_intent &&
                    in->clock_ms - window->live_from_ms <= TOKEN_LIVES_MS;
  /* The first request that presents a token uses it up, granted or not. */
  window->live_token = presented ? 0 : window->live_token;
  const enum refusal why = refusal(window, in, asked, good);
  if (why != REFUSAL_NONE) {
    return why;
  }
  memset(&window->now, 0, sizeof window->now);
  window->now.intent_number = asked->intent_number;
  window->now.token = asked->token;
  window->now.bank_before_mv = in->bank_mv;
  window->opened_at_ms = in->clock_ms;
  window->open = true;
  return REFUSAL_NONE;
}

static void keep_peaks(struct pulse_report *now, int32_t coil_ma) {
  if (coil_ma > now->peak_forward_ma) {
    now->peak_forward_ma = coil_ma;
  }
  if (-coil_ma > now->peak_reverse_ma) {
    now->peak_reverse_ma = -coil_ma;
  }
}

static void watch(struct window *window, const struct window_inputs *in) {
  const bool over = window->now.fired && !in->fire_high;
  if (in->fire_high && !window->now.fired) {
    window->now.fired = true;
    window->fired_at_ms = in->clock_ms;
  }
  if (over || in->clock_ms - window->opened_at_ms >= WINDOW_MAX_MS || !in->permit_held) {
    window->open = false;
    window->report_due = true;
    window->now.bank_after_mv = in->bank_mv;
  } else if (!window->now.fired) {
    /* The newest sample from before the switch closed is the one that counts. */
    window->now.bank_before_mv = in->bank_mv;
  }
}

const struct pulse_report *window_step(struct window *window, const struct window_inputs *in) {
  if (!window->changeover_seen || in->reverse_closed != window->changeover) {
    window->changeover_seen = true;
    window->changeover = in->reverse_closed;
    window->changeover_moved_at_ms = in->clock_ms;
  }
  if (!in->permit_held) {
    /* Whatever took the permit away also destroys what was pending. */
    window->live_token = 0;
  }
  if (window->open) {
    watch(window, in);
  }
  if (window->open || window->report_due) {
    keep_peaks(&window->now, in->coil_ma);
  }
  if (!window->report_due || !current_zero(in)) {
    return NULL;
  }
  window->report_due = false;
  if (window->now.fired) {
    window->now.duration_us = (int32_t)((in->clock_ms - window->fired_at_ms) * US_PER_MS);
  }
  struct pulse_report *place = &window->ring[window->ring_next];
  *place = window->now;
  window->ring_next = (uint8_t)((window->ring_next + 1) % RING_LENGTH);
  return place;
}

const struct pulse_report *window_past(const struct window *window, int64_t intent_number) {
  for (uint8_t back = 1; back <= RING_LENGTH; back++) {
    const uint8_t place = (uint8_t)((window->ring_next + RING_LENGTH - back) % RING_LENGTH);
    if (window->ring[place].intent_number == intent_number) {
      return &window->ring[place];
    }
  }
  return NULL;
}
