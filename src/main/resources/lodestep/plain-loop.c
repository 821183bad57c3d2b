/* A plain loop that wakes at fixed distances of time, for comparison with the program's own loop:
 * it does nothing else. Says how late it woke, sorted, as "p50 p99 p99.9 worst" in nanoseconds. */
#define _POSIX_C_SOURCE 200809L
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#define NS_PER_SECOND 1000000000LL

static int64_t now_ns(void) {
  struct timespec now;
  clock_gettime(CLOCK_MONOTONIC, &now);
  return now.tv_sec * NS_PER_SECOND + now.tv_nsec;
}

static int compare(const void *one, const void *other) {
  const int64_t a = *(const int64_t *)one;
  const int64_t b = *(const int64_t *)other;
  return (a > b) - (a < b);
}

int main(int count, char **arguments) {
  if (count != 3) {
    fprintf(stderr, "usage: plain-loop PERIOD_NS WAKES\n");
    return 2;
  }
  const int64_t period_ns = strtoll(arguments[1], NULL, 10);
  const int64_t wakes = strtoll(arguments[2], NULL, 10);
  int64_t *late_ns = calloc((size_t)wakes, sizeof *late_ns);
  if (period_ns <= 0 || wakes <= 0 || late_ns == NULL) {
    return 2;
  }
  int64_t due_ns = now_ns();
  for (int64_t wake = 0; wake < wakes; wake++) {
    due_ns += period_ns;
    struct timespec due = {due_ns / NS_PER_SECOND, due_ns % NS_PER_SECOND};
    while (clock_nanosleep(CLOCK_MONOTONIC, TIMER_ABSTIME, &due, NULL) != 0) {
    }
    const int64_t woke_ns = now_ns();
    late_ns[wake] = woke_ns - due_ns;
    /* What is missed is left out, as the program's loop does. */
    due_ns += late_ns[wake] / period_ns * period_ns;
  }
  qsort(late_ns, (size_t)wakes, sizeof *late_ns, compare);
  printf("%lld %lld %lld %lld\n", (long long)late_ns[wakes * 50 / 100],
         (long long)late_ns[wakes * 99 / 100], (long long)late_ns[wakes * 999 / 1000],
         (long long)late_ns[wakes - 1]);
  free(late_ns);
  return 0;
}
