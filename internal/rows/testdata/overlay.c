/* Shrinks a polygon by a clearance and lays row lines over it with GEOS, for the side by side
   with the rows of this package. Reads, as plain figures: the clearance, the segments to a
   quarter circle, the count of rings, each ring as its count of corners and their east and
   north, the count of row lines, and each line's two ends. Writes the length of the shrunk
   polygon's edge, the length of the lines within it, and the seconds that shrinking and
   laying over took. */
#include <geos_c.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

static void say(const char *format, ...) {
  va_list list;
  va_start(list, format);
  vfprintf(stderr, format, list);
  va_end(list);
  fputc('\n', stderr);
}

static double figure(void) {
  double v;
  if (scanf("%lf", &v) != 1) {
    say("a figure is missing");
    exit(1);
  }
  return v;
}

static GEOSCoordSequence *corners(unsigned count, int closed) {
  GEOSCoordSequence *list = GEOSCoordSeq_create(count + closed, 2);
  for (unsigned i = 0; i < count; i++) {
    double east = figure(), north = figure();
    GEOSCoordSeq_setXY(list, i, east, north);
    if (closed && i == 0) GEOSCoordSeq_setXY(list, count, east, north);
  }
  return list;
}

int main(void) {
  initGEOS(say, say);
  double clearance = figure();
  int quarter = figure(), rings = figure();
  GEOSGeometry **ring = calloc(rings, sizeof *ring);
  for (int i = 0; i < rings; i++) ring[i] = GEOSGeom_createLinearRing(corners(figure(), 1));
  GEOSGeometry *ground = GEOSGeom_createPolygon(ring[0], ring + 1, rings - 1);
  int rows = figure();
  GEOSGeometry **row = calloc(rows, sizeof *row);
  for (int i = 0; i < rows; i++) row[i] = GEOSGeom_createLineString(corners(2, 0));
  GEOSGeometry *lines = GEOSGeom_createCollection(GEOS_MULTILINESTRING, row, rows);

  struct timespec from, to;
  clock_gettime(CLOCK_MONOTONIC, &from);
  GEOSGeometry *sowable = GEOSBuffer(ground, -clearance, quarter);
  GEOSGeometry *sown = rows > 0 ? GEOSIntersection(lines, sowable) : NULL;
  clock_gettime(CLOCK_MONOTONIC, &to);

  double edge = 0, length = 0;
  if (!sowable || !GEOSLength(sowable, &edge)) return 1;
  if (rows > 0 && (!sown || !GEOSLength(sown, &length))) return 1;
  printf("%.9f %.9f %.9f\n", edge, length, to.tv_sec - from.tv_sec + (to.tv_nsec - from.tv_nsec) / 1e9);
  return 0;
}
