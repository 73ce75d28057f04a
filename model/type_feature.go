package model

// FeatureKind is what a feature marked on the photograph is.
type FeatureKind string

// Kinds of feature.
const (
	FeatureCircle    FeatureKind = "circle"
	FeatureRectangle FeatureKind = "rectangle"
	FeatureLine      FeatureKind = "line"
)
