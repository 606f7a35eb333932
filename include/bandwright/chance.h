/* bandwright/chance.h - the normal distribution, Student's t and chi-square: chances and quantiles.
 *
 * x and freedom are plain numbers, chances lie between 0 and 1. What is outside (freedom not above 0, a chance below 0
 * or above 1, NAN; chi-square without end of freedom) gives NAN; chances 0 and 1 give the ends of the range, and a
 * quantile of t over 1e150 is INFINITY. Student's t without end of freedom is the normal distribution. Relative error
 * under 1e-10 for freedom from 0.5 to 1e5 and chances from 1e-12 to 1 - 1e-12.
 *
 * Sources (formulas by number): M. Abramowitz, I. A. Stegun (eds.), Handbook of Mathematical Functions, NBS, 1964:
 * 6.1.41 (logarithm of the gamma function), 6.5.29 and 6.5.31 (incomplete gamma function as a series and as a continued
 * fraction), 26.5.8 (incomplete beta function as a continued fraction), 26.7.1 (Student's t by it), 26.2.23 and 26.4.17
 * (first guesses of quantiles); continued fractions from front to back by W. J. Lentz, Applied Optics 15 (1976),
 * 668-671. A quantile is the guess mended by Newton's steps kept between bounds.
 */
#ifndef BANDWRIGHT_CHANCE_H
#define BANDWRIGHT_CHANCE_H

#ifdef __cplusplus
extern "C" {
#endif

/* Chance that a value lies at or below x; deviation 1 around 0 for the normal distribution. */
double bw_normal_below(double x);
double bw_student_below(double x, double freedom);
double bw_chi_square_below(double x, double freedom);

/* The x at or below which a value lies with this chance. */
double bw_normal_quantile(double chance);
double bw_student_quantile(double chance, double freedom);
double bw_chi_square_quantile(double chance, double freedom);

#ifdef __cplusplus
}
#endif
#endif
