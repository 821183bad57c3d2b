/** Sheets and labels as PDF. The only package that knows the libraries for PDF and square codes. */
@NullMarked
package lodestep.adapter.paper;

import org.jspecify.annotations.NullMarked;
