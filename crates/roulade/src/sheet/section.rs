//! How a section of a sheet, or of a question, is declared.

/// Declares a section of the sheet: its known keys, all of which may be left out, and the unknown ones besides.
#[macro_export]
macro_rules! section {
    ($(#[$doc:meta])* $name:ident { $($(#[$field_doc:meta])* $field:ident: $kind:ty,)* }) => {
        #[derive(Debug, Default, PartialEq)]
        #[cfg_attr(feature = "schema", derive(schemars::JsonSchema), schemars(deny_unknown_fields))]
        $(#[$doc])*
        pub struct $name {
            $(
                $(#[$field_doc])*
                #[cfg_attr(feature = "schema", schemars(skip_serializing_if = "Option::is_none"))]
                pub $field: Option<$kind>,
            )*
            /// Keys this version does not know.
            #[cfg_attr(feature = "schema", schemars(skip))]
            pub unknown: $crate::sheet::Unknown,
        }

        impl $name {
            /// The keys this section knows.
            pub const KEYS: &'static [&'static str] = &[$(stringify!($field)),*];
        }

        // A function for each section: derived, that of a sheet would hold those of all sections and entries, twice.
        impl Clone for $name {
            #[inline(never)]
            fn clone(&self) -> Self {
                Self { $($field: self.$field.clone(),)* unknown: self.unknown.clone() }
            }
        }

        impl $crate::sheet::Shape for $name {
            const MOST_LISTED: usize = 200;

            fn read(
                value: $crate::sheet::Json<'_>,
                place: $crate::sheet::Trail<'_>,
                problems: &mut $crate::quantity::problem::Problems,
            ) -> Option<Self> {
                let mut entries = $crate::sheet::shape::object(value, place, Self::KEYS, problems)?;
                Some(Self {
                    $($field: $crate::sheet::shape::take(&mut entries, stringify!($field), place, problems),)*
                    unknown: $crate::sheet::shape::left(entries),
                })
            }
        }

        impl serde::Serialize for $name {
            fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                use serde::ser::SerializeMap;
                let mut map = serializer.serialize_map(None)?;
                $(if let Some(value) = &self.$field {
                    map.serialize_entry(stringify!($field), value)?;
                })*
                // A former name leaves `null` behind; what stood under it is written under today's.
                for (key, value) in self.unknown.iter().filter(|(_, value)| !value.is_null()) {
                    map.serialize_entry(key, value)?;
                }
                map.end()
            }
        }
    };
}

/// Declares a section of the sheet whose keys can be gone through: see [`tree`](super::tree).
macro_rules! sheet_section {
    ($(#[$doc:meta])* $name:ident { $($(#[$field_doc:meta])* $field:ident: $kind:ty,)* }) => {
        $crate::section! {
            $(#[$doc])*
            $name { $($(#[$field_doc])* $field: $kind,)* }
        }

        impl $crate::sheet::tree::Section for $name {
            fn keys(&self) -> &'static [&'static str] {
                Self::KEYS
            }

            fn slot(&mut self, key: &str) -> Option<&mut dyn $crate::sheet::tree::Slot> {
                $(if key == stringify!($field) {
                    return Some(&mut self.$field);
                })*
                None
            }

            fn unknown(&self) -> &$crate::sheet::Unknown {
                &self.unknown
            }

            fn unknown_mut(&mut self) -> &mut $crate::sheet::Unknown {
                &mut self.unknown
            }
        }

        impl $crate::sheet::tree::Held for $name {
            fn inner(&mut self) -> $crate::sheet::tree::Inner<'_> {
                $crate::sheet::tree::Inner::Section(self)
            }

            fn empty() -> Option<Self> {
                Some(Self::default())
            }
        }
    };
}

pub(super) use sheet_section;
